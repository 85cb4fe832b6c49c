// Between a sketch and the form beside it: the same walls and obstacles, read from its rows and
// written back. What was typed stays as typed; rows a room needs more are copied from blank ones.
"use strict";

(() => {
  const { lengths, geometry } = window.rowbookSketch;
  const SKETCHED = { wall: ["length", "turn", "angle"], hole: ["x", "y", "width", "depth"] };
  // What stands in a room is at first so large, in inches: width and depth, round ones without.
  const SIZES = { column: [12, 12], pipe: [4, null], hearth: [48, 18], flange: [8, null], cabinet: [72, 36], register: [12, 4] };

  // Fields

  const count = (form, kind) => Number(form.elements[`${kind}-rows`]?.value ?? 0);
  const isBox = (control) => control.type === "checkbox";

  function valueOf(form, name) {
    const control = form.elements[name];
    if (!control) return "";
    return isBox(control) ? control.checked : control.value;
  }

  function setValue(form, name, value) {
    const control = form.elements[name];
    if (!control || valueOf(form, name) === value) return;
    if (isBox(control)) control.checked = Boolean(value);
    else control.value = value;
    if (value && name.endsWith("-angle")) control.closest("details")?.setAttribute("open", "");
  }

  // Every field of a row by what follows its number, its own name first.
  function fieldsOf(form, kind, row) {
    const start = `${kind}-${row}-`;
    const names = [...form.elements].map((control) => control.name).filter((name) => name?.startsWith(start));
    return new Map([...new Set(names)].map((name) => [name.slice(start.length), valueOf(form, name)]));
  }

  function rowsOf(form, kind) {
    return Array.from({ length: count(form, kind) }, (_, row) => fieldsOf(form, kind, row));
  }

  // All that the form says of the room's shape, to tell whether it changed.
  function signature(form) {
    const rows = ["wall", "hole", "diagonal", "bow"].map((kind) => rowsOf(form, kind).map((fields) => [...fields]));
    return JSON.stringify([rows, ...["across", "along", "close_last"].map((name) => valueOf(form, name))]);
  }

  // Whether readings stand beside the walls that go by the walls' numbers.
  function hasReadings(form) {
    return [...form.elements].some(({ name, value }) => /^(diagonal|bow)-\d+-(length|along)$/.test(name ?? "") && value.trim());
  }

  // Diagonals and bows as far as their rows can be read; the form says what is wrong with the others.
  function readings(form, unit) {
    const rows = (kind) => rowsOf(form, kind).map((fields) => (name) => String(fields.get(name) ?? "").trim());
    const diagonals = rows("diagonal").map((of) => ({ start: Number(of("start")), end: Number(of("end")), text: of("length") }));
    const bows = rows("bow").map((of) => ({ wall: Number(of("wall")), along: lengths.parsePlace(of("along"), unit), into: lengths.parsePlace(of("into"), unit) }));
    return {
      diagonals: diagonals.filter(({ start, end, text }) => start && end && text),
      bows: bows.filter(({ wall, along, into }) => wall && along !== null && into),
    };
  }

  // Reading

  const without = (fields, names) => Object.fromEntries([...fields].filter(([name]) => !names.includes(name)));
  const refusal = (what, text, unit) => `${what}: “${text}” is no length; accepted: ${lengths.accepted(unit)}.`;

  // Returns { room, fault }; the fault says at which row the form can't be read.
  function read(form, unit, known) {
    const room = { open: true, at: known?.at ?? { x: 0, y: 0 }, heading: known?.heading ?? 0, walls: [], holes: [] };
    const fault = readWalls(form, unit, room, known) || readHoles(form, unit, room, known);
    if (!room.walls.length) return { room: { ...room, at: null }, fault };
    if (!fault) closeAsWalked(form, unit, room);
    return { room, fault };
  }

  function readWalls(form, unit, room, known) {
    const rows = rowsOf(form, "wall").filter((fields) => String(fields.get("length")).trim());
    if (!rows.length) return readRectangle(form, unit, room);
    for (const [i, fields] of rows.entries()) {
      const typed = fields.get("length").trim();
      const length = lengths.parse(typed, unit);
      if (length === null) return refusal(`Wall ${i + 1}`, typed, unit);
      const angle = Number(fields.get("angle") || 90);
      if (!(angle >= 1 && angle <= 179)) return `Wall ${i + 1}: an angle of ${fields.get("angle")}°; accepted: from 1 to 179.`;
      const turn = (180 - angle) * (fields.get("turn") === "right" ? -1 : 1);
      const wall = { length, turn, typed, extra: without(fields, SKETCHED.wall) };
      room.walls.push(asComputed(wall, known?.walls[i], unit));
    }
    return "";
  }

  // A length that a sketch wrote and nobody typed stays a computed one.
  function asComputed(wall, before, unit) {
    const computed = before && !before.typed && lengths.words(before.length, unit) === wall.typed;
    return computed ? { ...wall, length: before.length, typed: "" } : wall;
  }

  function readRectangle(form, unit, room) {
    const typed = ["across", "along"].map((name) => String(valueOf(form, name)).trim());
    if (!typed.every(Boolean)) return "";
    const [length, width] = typed.map((text) => lengths.parse(text, unit));
    if (length === null) return refusal("Length", typed[0], unit);
    if (width === null) return refusal("Width", typed[1], unit);
    for (const [i, size] of [length, width, length, width].entries()) {
      room.walls.push({ length: size, turn: 90, typed: typed[i % 2], extra: {} });
    }
    return "";
  }

  function readHoles(form, unit, room, known) {
    for (const [i, fields] of rowsOf(form, "hole").entries()) {
      const hole = { typed: {}, extra: without(fields, SKETCHED.hole) };
      const texts = SKETCHED.hole.map((name) => String(fields.get(name)).trim());
      if (!texts.some(Boolean)) continue;
      const before = known?.holes[room.holes.length];
      for (const [k, name] of SKETCHED.hole.entries()) {
        readFigure(hole, name, { text: texts[k], before, unit });
        if (hole[name] === null && (name !== "depth" || texts[k])) return refusal(`What the floor goes round, row ${i + 1}`, texts[k], unit);
      }
      room.holes.push(hole);
    }
    return "";
  }

  function readFigure(hole, name, { text, before, unit }) {
    const computed = before?.[name] != null && !before.typed[name] && lengths.words(before[name], unit) === text;
    const parse = name === "x" || name === "y" ? lengths.parsePlace : lengths.parse;
    hole[name] = computed ? before[name] : parse(text, unit);
    hole.typed[name] = computed ? "" : text;
  }

  // A walk that comes back to its first corner is closed; one wall more closes it where that was asked.
  function closeAsWalked(form, unit, room) {
    if (valueOf(form, "close_last") === true) {
      geometry.close(room);
      return;
    }
    if (room.walls.length < 3) return;
    const walked = room.walls.reduce((sum, wall) => sum + wall.length, 0);
    const over = geometry.miss({ ...room, open: false });
    room.open = Math.hypot(over.x, over.y) > lengths.closesWithin(walked, unit);
  }

  // Writing

  // A computed length is told in the system that was typed, so that one walk never mixes two.
  function teller(room, unit) {
    const typed = room.walls.map((wall) => wall.typed).filter(Boolean).join(" ").toLowerCase();
    const metric = /m/.test(typed);
    const imperial = /['"\u2032\u2033\u2019\u201d]|in|f/.test(typed);
    if (unit === "in" && metric && !imperial) return (value) => lengths.words(lengths.convert(value, "in", "mm"), "mm");
    if (unit === "mm" && imperial && !metric) return (value) => lengths.words(lengths.convert(value, "mm", "in"), "in");
    return (value) => lengths.words(value, unit);
  }

  function write(form, unit, room) {
    const tell = teller(room, unit);
    writeRows(form, "wall", room.walls.map((wall) => {
      const square = Math.abs(wall.turn) === 90;
      return {
        ...wall.extra,
        length: wall.typed || tell(wall.length),
        turn: wall.turn < 0 ? "right" : "left",
        angle: square ? "" : String(Number((180 - Math.abs(wall.turn)).toFixed(4))),
      };
    }));
    writeRows(form, "hole", room.holes.map((hole) => {
      const figures = SKETCHED.hole.map((name) => [name, hole[name] === null ? "" : hole.typed[name] || tell(hole[name])]);
      return { ...hole.extra, ...Object.fromEntries(figures) };
    }));
    for (const name of ["across", "along"]) setValue(form, name, "");
    setValue(form, "close_last", false);
    const first = form.elements["wall-rows"];
    for (const kind of ["input", "change"]) first.dispatchEvent(new Event(kind, { bubbles: true }));
  }

  function writeRows(form, kind, rows) {
    while (count(form, kind) < rows.length) addRow(form, kind);
    for (let row = 0; row < count(form, kind); row += 1) {
      const fields = rows[row] ?? blank(kind);
      for (const name of fieldsOf(form, kind, row).keys()) {
        if (!sameAngle(form, kind, row, name, fields)) setValue(form, `${kind}-${row}-${name}`, fields[name] ?? blank(kind)[name] ?? "");
      }
    }
  }

  // An angle typed as 135.0 is not written anew as 135.
  function sameAngle(form, kind, row, name, fields) {
    const stands = name === "angle" ? valueOf(form, `${kind}-${row}-${name}`) : "";
    return Boolean(stands && fields.angle) && Number(stands) === Number(fields.angle);
  }

  const blankRow = (kind) => document.getElementById(`blank-${kind}`).content;

  function blank(kind) {
    const start = `${kind}-0-`;
    const controls = [...blankRow(kind).querySelectorAll("[name]")];
    return Object.fromEntries(controls.map((control) => [control.name.slice(start.length), isBox(control) ? control.checked : control.value]));
  }

  // An obstacle of a kind, nowhere yet.
  function newHole(kind, unit) {
    const [width, depth] = (SIZES[kind] ?? SIZES.column).map((size) => size && size * (unit === "in" ? 1 : 25));
    const extra = { ...blank("hole"), kind };
    for (const name of SKETCHED.hole) delete extra[name];
    return { width, depth, typed: {}, extra };
  }

  function addRow(form, kind) {
    const row = count(form, kind);
    const copy = blankRow(kind).cloneNode(true);
    for (const part of copy.querySelectorAll("*")) {
      for (const { name, value } of [...part.attributes]) {
        if (value.includes(`${kind}-0-`)) part.setAttribute(name, value.replaceAll(`${kind}-0-`, `${kind}-${row}-`));
      }
      if (part.matches("label, legend")) part.firstChild.textContent = part.firstChild.textContent.replace(/\bWall 1\b/, `Wall ${row + 1}`);
    }
    const added = [...copy.children];
    (row ? rowOf(form, kind, row - 1) : form.elements[`${kind}-rows`]).after(...added);
    form.elements[`${kind}-rows`].value = String(row + 1);
    for (const one of added) window.htmx?.process(one);
  }

  // The outermost element that holds the fields of one row and of no other.
  function rowOf(form, kind, row) {
    let outermost = form.querySelector(`[name^="${kind}-${row}-"]`);
    const alone = (box) => [...box.querySelectorAll(`[name^="${kind}-"]`)].every(({ name }) => name.startsWith(`${kind}-${row}-`));
    while (outermost.parentElement !== form && alone(outermost.parentElement)) outermost = outermost.parentElement;
    return outermost;
  }

  window.rowbookSketch.form = { hasReadings, newHole, read, readings, signature, write };
})();
