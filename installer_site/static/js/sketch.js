// Sketching a room by pointer, touch or keys: corner after corner, walls and obstacles dragged or
// given exact figures. The sketch has no data of its own: it reads the form beside it and writes
// what changed back at once, so both edit the same room and the form alone can do the same.
"use strict";

(() => {
  const { lengths, geometry, moves, form: rows, makeCanvas } = window.rowbookSketch;
  const box = document.getElementById("sketch");
  const form = document.getElementById("room-form");
  if (!box || !form || !window.PointerEvent) return;

  const unit = box.dataset.unit;
  const GRID = lengths.grid(unit);
  const MOST_WALLS = 200;
  const NEAR = { mouse: 14, pen: 18, touch: 24 }; // px that count as on the first corner

  const byId = (id) => document.getElementById(id);
  const [svg, board, status] = [byId("sketch-canvas"), byId("sketch-board"), byId("sketch-status")];
  const [square, hold, kinds] = [byId("sketch-square"), byId("sketch-hold"), byId("sketch-kind")];
  const tool = (name) => board.querySelector(`[data-do="${name}"]`);
  const figures = [...board.querySelectorAll("[data-figure]")];
  const kindNames = new Map([...kinds.options].map((option) => [option.value, option.text]));
  const canvas = makeCanvas(svg, byId("sketch-lengths"), unit);

  let room = null;
  let fault = "";
  let selected = "";
  let placing = false;
  let cursor = null;
  let chalk = null;
  let known = ""; // what the form said when it was last read or written
  let writing = false;
  let past = [];
  let undone = [];

  const words = (value) => lengths.words(value, unit);
  const clone = (one) => structuredClone(one);
  const say = (text) => { status.textContent = text; };
  const part = (key) => {
    const [kind, number] = key.split("-");
    return { kind, i: Number(number) };
  };

  // Reading and writing

  function readForm() {
    ({ room, fault } = rows.read(form, unit, room));
    known = rows.signature(form);
    selected = "";
  }

  function formChanged() {
    if (board.hidden || writing || rows.signature(form) === known) return;
    const before = clone(room);
    readForm();
    past.push(before);
    undone = [];
    show(fault || `The walls are read from the form.${missed(room)}`);
  }

  function writeForm() {
    writing = true;
    rows.write(form, unit, room);
    writing = false;
    known = rows.signature(form);
  }

  // Takes a changed room for the room, remembers the one before, and says what was done.
  function commit(changed, text) {
    if (fault) return refuse(fault);
    past.push(room);
    undone = [];
    room = changed;
    writeForm();
    if (room.walls.length && !canvas.showsAll(room)) canvas.fit(room);
    const crossed = geometry.crossing(room);
    const warn = crossed ? ` Wall ${crossed[1] + 1} meets wall ${crossed[0] + 1}; accepted: an outline that never meets itself.` : "";
    show(text + warn + missed(room));
    return true;
  }

  // What a walk misses beyond what a tape may, said before it is spread over the walls.
  function missed(one) {
    const over = geometry.miss(one);
    const walked = one.walls.reduce((sum, wall) => sum + wall.length, 0);
    const off = Math.hypot(over.x, over.y);
    if (off <= lengths.tapesMiss(walked)) return "";
    return ` It closes ${words(off)} off, more than 1 in 500 of its ${words(walked)}: measure again what looks wrong. Saved as it is, the walls share the error.`;
  }

  function refuse(text) {
    show(text);
    return false;
  }

  function step(from, to, text) {
    if (!from.length) return;
    to.push(room);
    room = from.pop();
    selected = "";
    writeForm();
    show(text);
  }

  // Showing

  function show(text) {
    if (text !== undefined) say(text);
    canvas.draw(room, { selected, kinds: kindNames, chalk, cursor, readings: rows.readings(form, unit) });
    const { kind, i } = selected ? part(selected) : {};
    tool("undo").disabled = !past.length;
    tool("redo").disabled = !undone.length;
    tool("close").hidden = !room.open || room.walls.length < 2;
    tool("alcove").hidden = kind !== "wall" || room.open;
    tool("remove").hidden = kind !== "corner" && kind !== "hole";
    tool("remove").textContent = kind === "hole" ? "Remove the obstacle" : "Remove the corner";
    tool("place").setAttribute("aria-pressed", String(placing));
    byId("sketch-obstacle").hidden = kind !== "hole";
    if (kind === "hole") showFigures(room.holes[i]);
  }

  function showFigures(hole) {
    byId("sketch-obstacle-name").textContent = kindNames.get(hole.extra.kind) ?? "Obstacle";
    for (const input of figures) {
      if (input.dataset.dirty) continue;
      const figure = hole[input.dataset.figure];
      input.value = figure === null ? "" : hole.typed[input.dataset.figure] || words(figure);
      input.removeAttribute("aria-invalid");
    }
  }

  // What to do next.
  function next({ at, open: walked, walls } = room) {
    if (!at) return "Tap the first corner.";
    if (!walked) return `The outline is closed: ${walls.length} walls. Type their lengths as the tape reads them.`;
    const last = walls.length ? `Wall ${walls.length} is ${words(walls.at(-1).length)}. ` : "";
    return `${last}Tap the next corner${walls.length > 1 ? "; the first one closes the outline" : ""}.`;
  }

  function select(key, text) {
    mark(key);
    say(text ?? canvas.pieceOf(key)?.getAttribute("aria-label") ?? "");
  }

  // Selects without a word: what was said last stays to be read.
  function mark(key) {
    selected = key;
    show();
  }

  // Corners

  function snapped(point, pointer = "mouse") {
    return geometry.snap(room, point, { grid: GRID, near: NEAR[pointer] / canvas.view.scale, square: square.checked });
  }

  function addCorner(point, pointer) {
    if (room.walls.length >= MOST_WALLS) return refuse(`${MOST_WALLS} walls are the most that a room holds.`);
    const { point: put, closes } = snapped(point, pointer);
    if (closes) return closeOutline();
    const changed = clone(room);
    if (!geometry.addCorner(changed, put)) return refuse("That leads back on the last wall; accepted: a corner ahead or to a side.");
    selected = "";
    cursor = cursor && put;
    return commit(changed, next(changed));
  }

  function closeOutline() {
    const changed = clone(room);
    if (!geometry.close(changed)) return refuse("Two walls and a third back to the first corner are the least that make a room.");
    [chalk, cursor] = [null, null];
    return commit(changed, next(changed));
  }

  // What a hand moves. A wall whose length was typed is held, so that no finger undoes a tape.
  function move(from, key, by, exact) {
    const changed = clone(from);
    const { kind, i } = part(key);
    const snap = exact ? 0 : GRID;
    if (kind === "hole") return moveHole(changed, i, by, snap);
    const touched = kind === "corner"
      ? moves.moveCorner(changed, i, by, { square: square.checked, snap })
      : moves.moveWall(changed, i, moves.across(from, i, by), { snap });
    if (!touched) return { why: "A wall would have no length left." };
    const typed = touched.filter((wall) => from.walls[wall]?.typed);
    if (typed.length && hold.checked) {
      const [wall] = typed;
      return { why: `Wall ${wall + 1} is held at ${from.walls[wall].typed} as typed. Untick “Hold typed lengths” to move it.` };
    }
    for (const wall of typed) changed.walls[wall].typed = "";
    return { changed, text: touched.map((wall) => `Wall ${wall + 1} is ${words(changed.walls[wall].length)}.`).join(" ") };
  }

  function moveHole(changed, i, by, snap) {
    const hole = changed.holes[i];
    const held = ["x", "y"].filter((side) => hole.typed[side]);
    if (held.length === 2 && hold.checked) return { why: "Its place is held as typed. Untick “Hold typed lengths” to move it." };
    if (!hold.checked) Object.assign(hole.typed, { x: "", y: "" });
    moves.moveHole(changed, i, by, { snap });
    return { changed, text: `${kindNames.get(hole.extra.kind)}: ${words(hole.x)} along the first wall, ${words(hole.y)} in.` };
  }

  // Figures

  function commitLength(input) {
    if (!input.dataset.dirty) return true;
    const wall = Number(input.dataset.wall);
    const typed = input.value.trim();
    const length = typed ? lengths.parse(typed, unit) : room.walls[wall].length;
    if (length === null) return notRead(input, `Wall ${wall + 1}`);
    delete input.dataset.dirty;
    const { changed, text } = retyped(wall, length);
    changed.walls[wall].typed = typed;
    return commit(changed, text);
  }

  function retyped(wall, length) {
    const { changed, taken } = moves.giveLength(room, wall, length, hold.checked);
    const typed = `Wall ${wall + 1} is ${words(length)}.`;
    if (taken) return { changed, text: [typed, ...taken.map((i) => `Wall ${i + 1} is now ${words(changed.walls[i].length)}.`)].join(" ") };
    const over = geometry.miss(changed);
    return { changed, text: `${typed} The walk now misses its first corner by ${words(Math.hypot(over.x, over.y))}; every other wall is held as typed.` };
  }

  function notRead(input, what) {
    input.setAttribute("aria-invalid", "true");
    return refuse(`${what}: “${input.value.trim()}” is no length; accepted: ${lengths.accepted(unit)}.`);
  }

  const tools = {
    undo: () => step(past, undone, "Undone."),
    redo: () => step(undone, past, "Done again."),
    "zoom-in": () => { canvas.zoom(1.4); show(); },
    "zoom-out": () => { canvas.zoom(1 / 1.4); show(); },
    fit: () => { canvas.fit(room); show(); },
    close: closeOutline,
  };

  // Opening

  let wide = 0; // how wide the paper was

  function resized() {
    if (board.hidden || !room) return;
    const turned = wide && svg.clientWidth !== wide;
    wide = svg.clientWidth;
    if (turned && !canvas.showsAll(room)) canvas.fit(room);
    show();
  }

  function open() {
    const shut = !board.hidden;
    board.hidden = shut;
    byId("sketch-open").setAttribute("aria-expanded", String(!shut));
    byId("sketch-open").textContent = shut ? "Sketch the room" : "Put the sketch away";
    if (shut) return;
    [past, undone, room] = [[], [], null];
    readForm();
    canvas.fit(room);
    const readings = rows.hasReadings(form) ? " Bows are drawn larger than they are." : "";
    show(fault || next() + missed(room) + readings);
    window.scrollBy(0, board.getBoundingClientRect().top);
  }

  // What sketch-tools.js adds to and sketch-hands.js works with.
  window.rowbookSketch.hand = {
    ...{ box, canvas, form, svg, figures, kinds, kindNames, tools, unit, part },
    ...{ commit, mark, notRead, refuse, select, show },
    ...{ addCorner, commitLength, move, snapped },
    state: {
      get room() { return room; },
      get selected() { return selected; },
      set selected(key) { selected = key; },
      get placing() { return placing; },
      set placing(value) { placing = value; },
      get cursor() { return cursor; },
      set cursor(value) { cursor = value; },
      set chalk(value) { chalk = value; },
      preview(shown) { room = shown; },
    },
  };

  board.addEventListener("click", (event) => tools[event.target.dataset?.do]?.());
  byId("sketch-open").addEventListener("click", open);
  form.addEventListener("change", formChanged);
  form.addEventListener("input", () => setTimeout(formChanged, 400));
  new ResizeObserver(resized).observe(svg);
  box.hidden = false;
})();
