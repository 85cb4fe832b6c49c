// What was typed in a room, kept: on this device until it is saved, and step by step for undo.
"use strict";

(() => {
  const PREFIX = "rowbook.room:";
  const OLD_MS = 30 * 24 * 3600 * 1000;
  const NEVER = ["csrfmiddlewaretoken", "key", "do"]; // belong to one page, not to the room
  const NOT_TOLD = ["version", "seen"]; // tell whose work a save would replace
  const ROWS = /^(?:wall|diagonal|bow|hole)-rows$/;

  // Fields

  function read(form) {
    const told = [];
    for (const { name, type, value, checked } of form.elements) {
      if (name && !NEVER.includes(name)) told.push([name, type === "checkbox" ? checked : value]);
    }
    return told;
  }

  // Fields that say something: without empty rows, so that a row more is no change.
  function signature(told) {
    const empty = (name, value) => ROWS.test(name) || value === "" || value === false;
    const start = /^((?:wall|diagonal|bow|hole)-\d+-)/;
    const filled = new Set(told.filter(([name, value]) => start.test(name) && !/-(?:turn|kind|edge)$/.test(name) && value !== "").map(([name]) => start.exec(name)[1]));
    const kept = told.filter(([name, value]) => !empty(name, value) && !NOT_TOLD.includes(name) && (!start.test(name) || filled.has(start.exec(name)[1])));
    return JSON.stringify(kept.map(([name, value]) => [name, typeof value === "string" ? value.trim() : value]).sort());
  }

  // Puts fields back; `rows` makes as many rows as they need.
  function write(form, told, rows) {
    for (const [name, value] of told) {
      if (ROWS.test(name)) rows(name.replace("-rows", ""), Number(value));
    }
    for (const [name, value] of told) {
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
      localStorage.setItem(place(path), JSON.stringify({ at: Date.now(), key: form.elements.key.value, told: read(form) }));
      return true;
    } catch {
      return false; // no room, or the browser keeps nothing: the page itself still holds the text
    }
  }

  function stored(path) {
    try {
      const entry = JSON.parse(localStorage.getItem(place(path)));
      return Array.isArray(entry?.told) ? entry : null;
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
        const told = read(form);
        if (JSON.stringify(told) === JSON.stringify(past[at])) return;
        past.splice(at + 1, past.length, told);
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
