// Hands on a sketch: taps, drags, two fingers and keys, told to sketch.js as what they mean.
"use strict";

(() => {
  const { lengths, geometry, hand } = window.rowbookSketch;
  if (!hand) return;
  const { canvas, svg, figures, unit, part, state } = hand;
  const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
  const MOVES_AFTER = { mouse: 4, pen: 6, touch: 10 }; // px; less is a tap
  const fingers = new Map();
  let held = null; // what one finger is doing
  let pinch = null; // where two fingers were

  const spot = (event) => {
    const box = svg.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };

  // One finger

  // While corners are being set every tap sets one; only the corners themselves can be taken hold of.
  function keyUnder(event) {
    const key = event.target.closest?.("[data-key]")?.dataset.key ?? "";
    return state.placing || (state.room.open && !key.startsWith("corner")) ? "" : key;
  }

  function onDown(event) {
    if (event.button) return;
    const { room } = state;
    fingers.set(event.pointerId, spot(event));
    svg.setPointerCapture(event.pointerId);
    if (fingers.size === 2) {
      letGo();
      pinch = twoFingers();
      return;
    }
    held = { id: event.pointerId, kind: event.pointerType, from: spot(event), key: keyUnder(event), room, moved: false };
    state.chalk = null;
    state.cursor = null;
  }

  function onMove(event) {
    if (!fingers.has(event.pointerId)) return hover(event);
    fingers.set(event.pointerId, spot(event));
    if (pinch && fingers.size === 2) return stretch();
    if (held?.id !== event.pointerId) return undefined;
    const now = spot(event);
    const far = geometry.distance(now, held.from);
    if (!held.moved && far < (MOVES_AFTER[held.kind] ?? 6)) return undefined;
    return drag(now);
  }

  function drag(now) {
    const { scale } = canvas.view;
    if (!held.key) {
      const last = held.last ?? held.from;
      canvas.pan((last.x - now.x) / scale, (now.y - last.y) / scale);
      Object.assign(held, { last: now, moved: true });
      return hand.show();
    }
    const by = { x: (now.x - held.from.x) / scale, y: (held.from.y - now.y) / scale };
    const { changed, text, why } = hand.move(held.room, held.key, by);
    Object.assign(held, { moved: true, text, changed: changed ?? held.changed });
    if (changed) state.preview(changed);
    return hand.show(text ?? why);
  }

  function onUp(event) {
    const over = fingers.delete(event.pointerId);
    if (fingers.size < 2) pinch = null;
    if (!over || held?.id !== event.pointerId) return;
    const { key, room, moved, changed, text, kind } = held;
    held = null;
    if (!moved) tap(key, canvas.under(spot(event)), kind);
    else if (changed) {
      state.preview(room);
      hand.commit(changed, text);
    }
  }

  function tap(key, point, kind) {
    const { room } = state;
    if (state.placing) return hand.placeObstacle(point);
    if (room.open && (!key || key === "corner-0")) return hand.addCorner(point, kind);
    svg.querySelector(`[data-key="${key}"]`)?.focus({ preventScroll: true });
    return hand.select(key, key ? undefined : "Nothing is selected.");
  }

  function letGo() {
    if (held?.changed) state.preview(held.room);
    held = null;
    hand.show();
  }

  function onCancel(event) {
    fingers.delete(event.pointerId);
    pinch = null;
    letGo();
  }

  function hover(event) {
    if (event.pointerType !== "mouse" || !state.room?.open || !state.room.at) return;
    state.chalk = hand.snapped(canvas.under(spot(event))).point;
    hand.show();
  }

  function leave() {
    if (!state.room) return;
    state.chalk = null;
    hand.show();
  }

  // Two fingers

  function twoFingers() {
    const [a, b] = [...fingers.values()];
    return { middle: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, apart: Math.max(geometry.distance(a, b), 1) };
  }

  function stretch() {
    const now = twoFingers();
    const { scale } = canvas.view;
    canvas.pan((pinch.middle.x - now.middle.x) / scale, (now.middle.y - pinch.middle.y) / scale);
    canvas.zoom(now.apart / pinch.apart, now.middle);
    pinch = now;
    hand.show();
  }

  // A wheel scrolls the page; with Ctrl, as a trackpad's pinch sends it, it zooms.
  function onWheel(event) {
    if (!event.ctrlKey) return;
    event.preventDefault();
    canvas.zoom(Math.exp(-event.deltaY / 200), spot(event));
    hand.show();
  }

  // Keys

  function onKey(event) {
    const key = event.target.dataset?.key ?? "";
    const arrow = ARROWS[event.key];
    if (arrow) {
      event.preventDefault();
      const size = event.shiftKey ? lengths.fine(unit) : lengths.grid(unit);
      const by = { x: arrow[0] * size, y: arrow[1] * size };
      if (key) nudge(key, by);
      else moveCursor(by);
    } else if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      enter(key);
    } else if (event.key === "Delete" || event.key === "Backspace") {
      event.preventDefault();
      if (key && !key.startsWith("wall")) { hand.select(key); hand.remove(); svg.focus({ preventScroll: true }); }
    } else if (event.key === "Escape") {
      state.cursor = null;
      hand.select("", "Nothing is selected.");
    }
  }

  function nudge(key, by) {
    const { changed, text, why } = hand.move(state.room, key, by, true);
    if (changed) hand.commit(changed, text);
    else hand.show(why);
  }

  function moveCursor(by) {
    const { room } = state;
    const from = state.cursor ?? geometry.corners(room).at(-1) ?? { x: 0, y: 0 };
    state.cursor = geometry.plus(from, by);
    if (room.open) state.chalk = state.cursor;
    const { x, y } = geometry.inFrame(room.at ? geometry.frame(room) : { at: { x: 0, y: 0 }, along: { x: 1, y: 0 }, into: { x: 0, y: 1 } }, state.cursor);
    const inWords = (value) => `${value < 0 ? "minus " : ""}${lengths.words(Math.abs(value), unit)}`;
    hand.show(`Cross at ${inWords(x)} along, ${inWords(y)} square to it.`);
  }

  function enter(key) {
    const { kind, i } = key ? part(key) : {};
    if (key) hand.select(key);
    if (kind === "wall") focusLength(i);
    else if (kind === "hole") figures[0].focus();
    else if (kind === "corner" && i === 0 && state.room.open) hand.addCorner(state.room.at, "mouse");
    else if (!key && state.placing) hand.placeObstacle(state.cursor);
    else if (!key && state.room.open) hand.addCorner(state.cursor ?? geometry.corners(state.room).at(-1) ?? { x: 0, y: 0 }, "mouse");
  }

  // Fields of figures

  function focusLength(wall) {
    hand.mark(`wall-${wall}`);
    const input = canvas.inputOf(wall);
    input.focus({ preventScroll: true });
    input.select();
  }

  function onLengthKey(event) {
    const wall = Number(event.target.dataset.wall);
    if (event.key === "Enter") {
      event.preventDefault();
      if (!hand.commitLength(event.target)) return;
      if (wall + 1 < state.room.walls.length) focusLength(wall + 1);
      else canvas.pieceOf(`wall-${wall}`)?.focus({ preventScroll: true });
    } else if (event.key === "Escape") {
      delete event.target.dataset.dirty;
      hand.show("");
      canvas.pieceOf(`wall-${wall}`)?.focus({ preventScroll: true });
    }
  }

  const dirty = (event) => { event.target.dataset.dirty = "yes"; };

  const paper = document.getElementById("sketch-lengths");
  paper.addEventListener("input", dirty);
  paper.addEventListener("keydown", onLengthKey);
  paper.addEventListener("focusout", (event) => hand.commitLength(event.target));
  paper.addEventListener("focusin", (event) => {
    const key = `wall-${event.target.dataset.wall}`;
    if (state.selected !== key) hand.mark(key);
  });
  for (const input of figures) {
    input.addEventListener("input", dirty);
    input.addEventListener("change", () => hand.commitFigure(input));
    input.addEventListener("keydown", (event) => {
      if (event.key === "Enter") hand.commitFigure(input);
    });
  }

  svg.addEventListener("pointerdown", onDown);
  svg.addEventListener("pointermove", onMove);
  svg.addEventListener("pointerup", onUp);
  svg.addEventListener("pointercancel", onCancel);
  svg.addEventListener("pointerleave", leave);
  svg.addEventListener("wheel", onWheel, { passive: false });
  svg.addEventListener("keydown", onKey);
})();
