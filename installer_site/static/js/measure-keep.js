// What was typed in a room, kept: on this device until it is saved, and step by step for undo.
"use strict";

(() => {
  const PREFIX = "rowbook.room:";
  const OLD_MS = 30 * 24 * 3600 * 1000;
  const NEVER = ["csrfmiddlewaretoken", "key", "do"]; // belong to one page, not to the room
  const NOT_TYPED = ["version", "seen"]; // tell whose work a save would replace
  const STORED_AS = "told"; // the name of the fields in what devices hold already
  const ROWS = /^(?:wall|diagonal|bow|hole)-rows$/;

  // Fields

  function read(form) {
    const fields = [];
    for (const { name, type, value, checked } of form.elements) {
      if (name && !NEVER.includes(name)) fields.push([name, type === "checkbox" ? checked : value]);
    }
    return fields;
  }

  // Fields that say something: without empty rows, so that a row more is no change.
  function signature(fields) {
    const empty = (name, value) => ROWS.test(name) || value === "" || value === false;
    const start = /^((?:wall|diagonal|bow|hole)-\d+-)/;
    const filled = new Set(fields.filter(([name, value]) => start.test(name) && !/-(?:turn|kind|edge)$/.test(name) && value !== "").map(([name]) => start.exec(name)[1]));
    const kept = fields.filter(([name, value]) => !empty(name, value) && !NOT_TYPED.includes(name) && (!start.test(name) || filled.has(start.exec(name)[1])));
    return JSON.stringify(kept.map(([name, value]) => [name, typeof value === "string" ? value.trim() : value]).sort());
  }

  // Puts fields back; `rows` makes as many rows as they need.
  function write(form, fields, rows) {
    for (const [name, value] of fields) {
      if (ROWS.test(name)) rows(name.replace("-rows", ""), Number(value));
    }
    for (const [name, value] of fields) {
      const control = form.elements[name];
      if (!control || ROWS.test(name)) continue;
      if (control.type === "checkbox") control.checked = value;
      else control.value = value;
      if (value !== "" && /-(?:angle|edge)$/.test(name) && value !== "wall") control.closest("details")?.setAttribute("open", "");
    }
  }

  // This device

  const place = (path) => PREFIX + path;

  function store(path, form) {
    try {
      const entry = { at: Date.now(), key: form.elements.key.value, [STORED_AS]: read(form) };
      localStorage.setItem(place(path), JSON.stringify(entry));
      return true;
    } catch {
      return false; // no room, or the browser keeps nothing: the page itself still holds the text
    }
  }

  function stored(path) {
    try {
      const entry = JSON.parse(localStorage.getItem(place(path)));
      const fields = entry?.[STORED_AS];
      return Array.isArray(fields) ? { at: entry.at, key: entry.key, fields } : null;
    } catch {
      return null;
    }
  }

  function forget(path) {
    try {
      localStorage.removeItem(place(path));
    } catch {
      // nothing was kept
    }
  }

  // Drops what the server has taken, under whatever address it was typed, and what is old.
  function sweep(savedKey) {
    try {
      for (const name of Object.keys(localStorage).filter((one) => one.startsWith(PREFIX))) {
        const entry = stored(name.slice(PREFIX.length));
        if (!entry || (savedKey && entry.key === savedKey) || Date.now() - entry.at > OLD_MS) localStorage.removeItem(name);
      }
    } catch {
      // nothing was kept
    }
  }

  // Steps

  function history(form, first) {
    const past = [first];
    let at = 0;
    return {
      get now() { return past[at]; },
      get canUndo() { return at > 0; },
      get canRedo() { return at < past.length - 1; },
      note() {
        const fields = read(form);
        if (JSON.stringify(fields) === JSON.stringify(past[at])) return;
        past.splice(at + 1, past.length, fields);
        at += 1;
      },
      step(by) {
        const next = past[at + by];
        if (!next) return null;
        at += by;
        return next;
      },
    };
  }

  (window.rowbookMeasure ??= {}).keep = { read, signature, write, store, stored, forget, sweep, history };
})();
