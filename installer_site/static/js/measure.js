// Measuring by keys: Enter goes from wall to wall, the outline draws itself, every change is kept on
// this device and can be undone. Without this script the page is an ordinary form.
"use strict";

(() => {
  const { figure, keep } = window.rowbookMeasure;
  const form = document.getElementById("room-form");
  const drawing = document.getElementById("drawing");
  if (!form || !drawing) return;

  const KINDS = ["wall", "diagonal", "bow", "hole"];
  const MOST_ROWS = 200;
  const PATIENCE_MS = 5000;
  const path = window.location.pathname;
  const unit = form.dataset.unit;
  const field = (name) => form.elements[name];
  const count = (kind) => Number(field(`${kind}-rows`)?.value ?? 0);
  const asLoaded = keep.read(form);
  const steps = keep.history(form, asLoaded);
  let reached = true; // whether the server answered last
  let probed = false;

  // Rows

  const blank = (kind) => document.getElementById(`blank-${kind}`)?.content;

  function rowOf(kind, row) {
    return form.querySelector(`[name^="${kind}-${row}-"]`)?.closest(".typed-row");
  }

  function addRow(kind) {
    const row = count(kind);
    if (row >= MOST_ROWS || !blank(kind)) return false;
    const copy = blank(kind).cloneNode(true);
    for (const one of copy.querySelectorAll("*")) {
      for (const { name, value } of [...one.attributes]) {
        if (value.includes(`${kind}-0-`)) one.setAttribute(name, value.replaceAll(`${kind}-0-`, `${kind}-${row}-`));
      }
      one.removeAttribute("autofocus");
      if (one.matches("label") && one.firstChild) one.firstChild.textContent = one.firstChild.textContent.replace(/\bWall 1\b/, `Wall ${row + 1}`);
    }
    const after = row ? rowOf(kind, row - 1) : field(`${kind}-rows`);
    for (const button of copy.querySelectorAll("[data-insert]")) button.hidden = false;
    after.after(copy);
    field(`${kind}-rows`).value = String(row + 1);
    return true;
  }

  // A wall that was forgotten: the walls after it move one row down.
  function insertAfter(row) {
    if (!addRow("wall")) return;
    const names = ["length", "turn", "angle", "edge"];
    for (let at = count("wall") - 1; at > row + 1; at -= 1) {
      for (const name of names) field(`wall-${at}-${name}`).value = field(`wall-${at - 1}-${name}`).value;
    }
    for (const name of names) field(`wall-${row + 1}-${name}`).value = { turn: "left", edge: "wall" }[name] ?? "";
    renumber("bow", "wall", row + 1);
    for (const end of ["start", "end"]) renumber("diagonal", end, row + 2);
    changed();
    focusOn(field(`wall-${row + 1}-length`));
  }

  // Walls or corners beyond the last one that kept its number count one more.
  function renumber(kind, name, last) {
    for (let row = 0; row < count(kind); row += 1) {
      const control = field(`${kind}-${row}-${name}`);
      if (Number(control.value) > last) control.value = String(Number(control.value) + 1);
    }
  }

  function rows(kind, wanted) {
    while (count(kind) < wanted && addRow(kind));
    for (let row = count(kind) - 1; row >= wanted; row -= 1) {
      rowOf(kind, row)?.remove();
      field(`${kind}-rows`).value = String(row);
    }
  }

  // Drawing

  function draw() {
    const made = figure(form, unit);
    if (!made) return;
    drawing.querySelector("figure.drawing, .empty > p")?.remove();
    drawing.querySelector(".empty:not(:has(ul))")?.remove();
    drawing.prepend(made);
  }

  // The server says why there is no outline yet; what is typed so far stays drawn above that.
  drawing.addEventListener("htmx:afterSwap", () => {
    if (!drawing.querySelector("figure.drawing")) draw();
  });

  // Keeping and undoing

  const tools = document.getElementById("measure-undo");
  const notices = document.getElementById("measure-notices");

  function showSteps() {
    tools.hidden = false;
    tools.querySelector("[data-step=undo]").disabled = !steps.canUndo;
    tools.querySelector("[data-step=redo]").disabled = !steps.canRedo;
  }

  function kept() {
    if (keep.signature(keep.read(form)) === keep.signature(asLoaded)) keep.forget(path);
    else keep.store(path, form);
  }

  function changed() {
    draw();
    for (const kind of ["input", "change"]) field("wall-rows").dispatchEvent(new Event(kind, { bubbles: true }));
  }

  function put(fields) {
    keep.write(form, fields, rows);
    draw();
    field("wall-rows").dispatchEvent(new Event("input", { bubbles: true }));
  }

  function step(by) {
    const fields = steps.step(by);
    if (fields) put(fields);
    showSteps();
  }

  function notice(id, tone, title, text, buttons = []) {
    document.getElementById(id)?.remove();
    const box = document.createElement("div");
    box.id = id;
    box.className = `notice ${tone}`;
    const head = document.createElement("h2");
    head.className = "notice-title";
    head.textContent = title;
    const line = document.createElement("p");
    line.textContent = text;
    box.append(head, line);
    if (buttons.length) {
      const bar = document.createElement("div");
      bar.className = "actions";
      for (const [word, act] of buttons) {
        const button = document.createElement("button");
        button.type = "button";
        button.textContent = word;
        button.addEventListener("click", () => { box.remove(); act(); });
        bar.append(button);
      }
      box.append(bar);
    }
    notices.append(box);
    return box;
  }

  // In the company's time, as on every page; a device that does not know that zone shows its own.
  function moment(at) {
    const shown = { month: "short", day: "numeric", hour: "numeric", minute: "2-digit" };
    try {
      return new Date(at).toLocaleString([], { ...shown, timeZone: form.dataset.timeZone });
    } catch {
      return new Date(at).toLocaleString([], shown);
    }
  }

  function restore() {
    keep.sweep(form.dataset.saved);
    const entry = keep.stored(path);
    if (!entry) return;
    if (keep.signature(entry.fields) === keep.signature(asLoaded)) {
      if (!document.getElementById("form-errors")) keep.forget(path);
      return;
    }
    if (document.getElementById("form-errors")) return; // the page holds what was sent
    put(entry.fields);
    steps.note();
    notice("kept-notice", "caution", "Typed before and not saved", `What was typed here on ${moment(entry.at)} is back in its fields. Save the room to put it in the book.`, [
      ["Keep", () => field("name").focus()],
      ["Discard", () => { put(asLoaded); steps.note(); showSteps(); keep.forget(path); field("name").focus(); }],
    ]);
  }

  // Keys

  // "5' r": the letter is the turn, so that a walk is typed without leaving the lengths.
  function takeTurn(control) {
    const match = /^(.*[\d'"\s\u00bc-\u00be\u2032\u2033])([lr])$/i.exec(control.value);
    const turn = match && field(control.name.replace("-length", "-turn"));
    if (!turn) return;
    control.value = match[1].trimEnd();
    turn.value = match[2].toLowerCase() === "r" ? "right" : "left";
  }

  function focusOn(control) {
    control?.focus();
    control?.select?.();
  }

  const save = () => form.querySelector('button[value="save"]');

  function fromWall(row) {
    const length = field(`wall-${row}-length`);
    if (!length.value.trim()) return save();
    if (!field(`wall-${row + 1}-length`)) addRow("wall");
    return field(`wall-${row + 1}-length`) ?? save();
  }

  // Where Enter leads from a field; null where it is to do what it always does.
  function following(control) {
    const [, kind, row] = /^(\w+)-(\d+)-/.exec(control.name) ?? [];
    if (kind === "wall") return fromWall(Number(row));
    if (KINDS.includes(kind)) {
      const controls = [...control.closest(".typed-row").querySelectorAll("input, select")];
      return controls[controls.indexOf(control) + 1] ?? save();
    }
    if (control.name === "name") return field("across") ?? field("wall-0-length");
    if (control.name === "across") return control.value.trim() ? field("along") : field("wall-0-length");
    return save();
  }

  function onEnter(event) {
    const control = event.target;
    if (!control.matches("input, select") || event.isComposing) return;
    event.preventDefault();
    focusOn(following(control));
  }

  function onKey(event) {
    const command = event.ctrlKey || event.metaKey;
    if (event.key === "Enter" && !command && !event.altKey) onEnter(event);
    const back = command && !event.shiftKey && event.key.toLowerCase() === "z";
    const again = command && (event.key.toLowerCase() === "y" || (event.shiftKey && event.key.toLowerCase() === "z"));
    if (!back && !again) return;
    const noted = new Map(steps.now).get(event.target.name);
    const typing = event.target.matches("input:not([type=checkbox])") && noted !== event.target.value;
    if (typing) return; // the field's own undo
    event.preventDefault();
    step(back ? -1 : 1);
  }

  // Signal

  function signalLost() {
    reached = false;
    if (document.getElementById("signal-notice")) return;
    notice("signal-notice", "stop", "No signal", "The outline is drawn here only, and nothing can be saved. What you type is kept on this device.");
  }

  function signalBack() {
    reached = true;
    document.getElementById("signal-notice")?.remove();
  }

  async function probe(submitter) {
    try {
      await fetch(form.dataset.probe, { cache: "no-store", signal: AbortSignal.timeout(PATIENCE_MS) });
      signalBack();
      probed = true;
      form.requestSubmit(submitter);
    } catch {
      const box = notice("signal-notice", "stop", "No signal; nothing was saved", "What you typed is kept on this device and stays on the page. Save again when there is signal.");
      box.scrollIntoView({ block: "nearest" });
    }
  }

  function onSubmit(event) {
    steps.note();
    kept();
    if (probed || (reached && navigator.onLine)) return;
    event.preventDefault();
    probe(event.submitter);
  }

  // Wiring

  form.addEventListener("input", (event) => {
    if (/^wall-\d+-length$/.test(event.target.name)) takeTurn(event.target);
    draw();
    kept();
  });
  form.addEventListener("change", () => {
    steps.note();
    showSteps();
    kept();
  });
  form.addEventListener("click", (event) => {
    const inserted = event.target.closest("[data-insert]")?.closest(".typed-row").querySelector("[name$=-length]");
    if (inserted) insertAfter(Number(inserted.name.split("-")[1]));
    const button = event.target.closest('button[value^="add-"]');
    const kind = button?.value.replace("add-", "");
    if (!kind || !addRow(kind)) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    steps.note();
    showSteps();
    focusOn(rowOf(kind, count(kind) - 1)?.querySelector("input, select"));
  }, true);
  tools.addEventListener("click", (event) => {
    const button = event.target.closest("[data-step]");
    if (button) step(button.dataset.step === "undo" ? -1 : 1);
  });
  form.addEventListener("keydown", onKey);
  form.addEventListener("submit", onSubmit);
  document.body.addEventListener("htmx:sendError", signalLost);
  document.body.addEventListener("htmx:afterOnLoad", signalBack);
  window.addEventListener("offline", signalLost);
  window.addEventListener("online", signalBack);
  window.addEventListener("pageshow", () => { probed = false; });

  for (const part of form.querySelectorAll("[data-with-keys], [data-insert]")) part.hidden = false;
  restore();
  showSteps();
  if (!drawing.querySelector("figure.drawing")) draw();
})();
