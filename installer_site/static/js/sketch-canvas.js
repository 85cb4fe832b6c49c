// The paper of a sketch: walls as chalk and pencil lines, corners where chalk crosses, dimension
// lines with a field at each wall for its length. It shows a room and knows no other; what hands do is told by sketch.js.
"use strict";

(() => {
  const { lengths, geometry, lines } = window.rowbookSketch;
  const SVG = "http://www.w3.org/2000/svg";
  const MARGIN = 40; // px kept free around the room when it is fitted
  const REACH = 22; // px around a corner that count as the corner
  const FIELD = { wide: 96, high: 44, gap: 8 };
  const FIRST_SIGHT = { in: 20 * 12, mm: 6000 }; // the lesser side of an empty paper

  function makeCanvas(svg, fields, unit) {
    const view = { x: 0, y: 0, scale: 1 };
    const kept = new Map();
    let seen = new Set();
    const layers = Object.fromEntries(["ground", "walls", "corners", "holes", "marks"].map((name) => {
      const layer = svg.appendChild(document.createElementNS(SVG, "g"));
      layer.setAttribute("class", `sketch-${name}`);
      return [name, layer];
    }));

    // View: room coordinates, y up, onto the paper, y down

    const size = () => ({ wide: svg.clientWidth || 300, high: svg.clientHeight || 300 });
    const at = ({ x, y }) => {
      const { wide, high } = size();
      return { x: (x - view.x) * view.scale + wide / 2, y: high / 2 - (y - view.y) * view.scale };
    };
    const under = ({ x, y }) => {
      const { wide, high } = size();
      return { x: (x - wide / 2) / view.scale + view.x, y: (high / 2 - y) / view.scale + view.y };
    };

    function fit(room) {
      const points = [...geometry.corners(room), ...room.holes.flatMap((hole) => geometry.sides(room, hole))];
      const { wide, high } = size();
      if (points.length < 2) {
        Object.assign(view, { ...(points[0] ?? { x: 0, y: 0 }), scale: Math.min(wide, high) / FIRST_SIGHT[unit] });
        return;
      }
      const [left, right] = [Math.min(...points.map((p) => p.x)), Math.max(...points.map((p) => p.x))];
      const [low, top] = [Math.min(...points.map((p) => p.y)), Math.max(...points.map((p) => p.y))];
      const scale = Math.min((wide - 2 * MARGIN) / (right - left || 1), (high - 2 * MARGIN) / (top - low || 1));
      Object.assign(view, { x: (left + right) / 2, y: (low + top) / 2, scale });
    }

    function zoom(times, around = { x: size().wide / 2, y: size().high / 2 }) {
      const fixed = under(around);
      const widest = size().wide / FIRST_SIGHT[unit];
      view.scale = Math.min(Math.max(view.scale * times, widest / 50), widest * 50);
      const now = under(around);
      pan(fixed.x - now.x, fixed.y - now.y);
    }

    function pan(x, y) {
      view.x += x;
      view.y += y;
    }

    const showsAll = (room) => geometry.corners(room).map(at).every(({ x, y }) => x > 4 && y > 4 && x < size().wide - 4 && y < size().high - 4);

    // Pieces are kept from one drawing to the next, so that the focus stays where it is.

    function put(layer, key, tag, attributes) {
      let piece = kept.get(key);
      if (!piece) {
        piece = layer.appendChild(document.createElementNS(SVG, tag));
        kept.set(key, piece);
      }
      seen.add(key);
      for (const [name, value] of Object.entries(attributes)) {
        if (value === null) piece.removeAttribute(name);
        else if (piece.getAttribute(name) !== String(value)) piece.setAttribute(name, value);
      }
      return piece;
    }

    const button = (key, label, selected) => ({
      "data-key": key, role: "button", tabindex: 0, "aria-label": label, "aria-pressed": key === selected,
      class: key === selected ? "is-selected" : "",
    });
    const ends = (a, b) => ({ x1: a.x, y1: a.y, x2: b.x, y2: b.y });
    const list = (points) => points.map(({ x, y }) => `${x},${y}`).join(" ");
    const inWords = (value) => lengths.words(value, unit);

    function draw(room, shown) {
      seen = new Set();
      const { wide, high } = size();
      svg.setAttribute("viewBox", `0 0 ${wide} ${high}`);
      const points = geometry.corners(room).map(at);
      drawGround(room, points);
      drawWalls(room, points, shown.selected);
      drawReadings(room, points, shown.readings);
      drawCorners(room, points, shown.selected);
      room.holes.forEach((hole, i) => drawHole(room, hole, i, shown));
      drawMarks(points, shown);
      drawFields(room, points, shown.selected);
      for (const [key, piece] of kept) {
        if (!seen.has(key)) {
          piece.remove();
          kept.delete(key);
        }
      }
    }

    function drawGround(room, points) {
      const foot = unit === "in" ? 12 : 1000;
      const apart = [foot, foot * 5, foot * 10, foot * 50].find((step) => step * view.scale >= 32) ?? foot * 500;
      const marks = lines.marks(at(room.at ?? { x: 0, y: 0 }), apart * view.scale, size());
      put(layers.ground, "feet", "path", { class: "sketch-feet", d: marks });
      const floor = room.open ? [] : [points, ...room.holes.map((hole) => geometry.sides(room, hole).map(at))];
      const path = floor.map((ring) => `M${ring.map(({ x, y }) => `${x} ${y}`).join("L")}Z`).join("");
      put(layers.ground, "floor", "path", { class: "sketch-floor", "fill-rule": "evenodd", d: path });
    }

    function drawWalls(room, points, selected) {
      room.walls.forEach((wall, i) => {
        const key = `wall-${i}`;
        const line = ends(points[i], points[(i + 1) % points.length]);
        const typed = wall.typed ? `typed as ${wall.typed}` : inWords(wall.length);
        const group = put(layers.walls, key, "g", button(key, `Wall ${i + 1}, ${typed}`, selected));
        put(group, `${key}-reach`, "line", { class: "sketch-reach", ...line });
        put(group, `${key}-line`, "line", { class: wall.typed ? "sketch-line is-typed" : "sketch-line", ...line });
      });
    }

    // Diagonals from corner to corner, and walls that readings bend.
    function drawReadings(room, points, { diagonals, bows }) {
      diagonals.forEach(({ start, end, text }, i) => {
        const [a, b] = [points[start - 1], points[end - 1]];
        if (!a || !b) return;
        put(layers.walls, `diagonal-${i}`, "line", { class: "sketch-diagonal", ...ends(a, b) });
        const label = put(layers.marks, `across-${i}`, "text", { class: "sketch-label is-across", x: a.x + (b.x - a.x) * 0.4, y: a.y + (b.y - a.y) * 0.4 });
        label.textContent = text;
      });
      for (const [wall, readings] of grouped(bows)) {
        const [a, b] = [points[wall - 1], points[wall % points.length]];
        if (a && b && wall <= room.walls.length) {
          put(layers.walls, `bow-${wall}`, "path", { class: "sketch-bow", d: lines.bow(a, b, { readings, inward: inwardOf(room, a, b), scale: view.scale }) });
        }
      }
    }

    const grouped = (bows) => bows.reduce((all, one) => all.set(one.wall, [...(all.get(one.wall) ?? []), one]), new Map());

    function inwardOf(room, a, b) {
      const hand = geometry.area(geometry.corners(room)) < 0 ? -1 : 1;
      const length = Math.hypot(b.x - a.x, b.y - a.y) || 1;
      return { x: ((b.y - a.y) / length) * hand, y: (-(b.x - a.x) / length) * hand };
    }

    function drawCorners(room, points, selected) {
      points.forEach((point, i) => {
        const key = `corner-${i}`;
        const behind = room.walls[(i - 1 + room.walls.length) % room.walls.length];
        const ended = room.open && (i === 0 || i === room.walls.length);
        const angle = ended || !behind ? "an end" : Math.abs(behind.turn) === 90 ? "square" : `${Number((180 - Math.abs(behind.turn)).toFixed(1))}°`;
        const group = put(layers.corners, key, "g", button(key, `Corner ${i + 1}, ${angle}`, selected));
        put(group, `${key}-reach`, "circle", { class: "sketch-reach", cx: point.x, cy: point.y, r: REACH });
        const before = points[i - 1] ?? (room.open ? null : points.at(-1));
        const after = points[i + 1] ?? (room.open ? null : points[0]);
        put(group, `${key}-dot`, "path", { class: "sketch-dot", d: lines.handle(point, [before, after]) });
        if (i === 0) put(group, `${key}-start`, "path", { class: "sketch-dot is-first", d: lines.start(point) });
      });
    }

    function drawHole(room, hole, i, { selected, kinds }) {
      const key = `hole-${i}`;
      const ring = geometry.sides(room, hole).map(at);
      const name = kinds.get(hole.extra.kind) ?? "Obstacle";
      const label = `${name}, ${inWords(hole.x)} along, ${inWords(hole.y)} in, ${inWords(hole.width)} ${hole.depth === null ? "across" : `by ${inWords(hole.depth)}`}`;
      const group = put(layers.holes, key, "g", button(key, label, selected));
      put(group, `${key}-reach`, "polygon", { class: "sketch-reach", points: list(ring) });
      put(group, `${key}-ring`, "polygon", { class: hole.extra.kind === "register" ? "sketch-ring is-register" : "sketch-ring", points: list(ring) });
      if (hole.extra.kind === "register") return;
      const quarter = ring.length / 4;
      const from = Math.floor(quarter / 2);
      put(group, `${key}-a`, "line", { class: "sketch-cross", ...ends(ring[from], ring[from + 2 * quarter]) });
      put(group, `${key}-b`, "line", { class: "sketch-cross", ...ends(ring[from + quarter], ring[from + 3 * quarter]) });
    }

    // The chalk line to where the next corner would go, and the cross that arrow keys move.
    function drawMarks(points, { chalk, cursor }) {
      if (chalk && points.length) put(layers.marks, "chalk", "line", { class: "sketch-chalk", ...ends(points.at(-1), at(chalk)) });
      if (chalk) put(layers.marks, "mark", "circle", { class: "sketch-mark", cx: at(chalk).x, cy: at(chalk).y, r: 4 });
      if (!cursor) return;
      const { x, y } = at(cursor);
      put(layers.marks, "cursor", "path", { class: "sketch-cursor", d: `M${x - 12} ${y}H${x + 12}M${x} ${y - 12}V${y + 12}` });
    }

    // Fields: one a wall, inside the room, where it covers nothing; else its length outside in letters.
    // While corners are being set only a chosen wall has a field: taps on the paper set corners.

    const inputs = [];

    function inputOf(i) {
      if (!inputs[i]) {
        const input = document.createElement("input");
        Object.assign(input, { autocomplete: "off", className: "sketch-field" });
        input.dataset.wall = i;
        input.setAttribute("aria-label", `Length of wall ${i + 1}`);
        inputs[i] = fields.appendChild(input);
      }
      return inputs[i];
    }

    function place(a, b, hand) {
      const length = Math.hypot(b.x - a.x, b.y - a.y) || 1;
      const inward = { x: ((b.y - a.y) / length) * hand, y: (-(b.x - a.x) / length) * hand };
      const off = FIELD.gap + (Math.abs(inward.x) * FIELD.wide) / 2 + (Math.abs(inward.y) * FIELD.high) / 2;
      const middle = { x: (a.x + b.x) / 2 + inward.x * off, y: (a.y + b.y) / 2 + inward.y * off };
      return { left: middle.x - FIELD.wide / 2, top: middle.y - FIELD.high / 2 };
    }

    const apart = (p, q) => Math.abs(p.left - q.left) >= FIELD.wide || Math.abs(p.top - q.top) >= FIELD.high;

    function drawFields(room, points, selected) {
      const hand = geometry.area(geometry.corners(room)) < 0 ? -1 : 1;
      const { wide, high } = size();
      const taken = room.holes.map((hole) => {
        const ring = geometry.sides(room, hole).map(at);
        const half = ring.length / 2;
        return { left: (ring[0].x + ring[half].x - FIELD.wide) / 2, top: (ring[0].y + ring[half].y - FIELD.high) / 2 };
      });
      const order = room.walls.map((_, i) => i).sort((i, j) => Number(`wall-${j}` === selected) - Number(`wall-${i}` === selected));
      const shown = new Set();
      for (const i of order) {
        const [a, b] = [points[i], points[(i + 1) % points.length]];
        const spot = place(a, b, hand);
        const must = `wall-${i}` === selected || inputOf(i) === document.activeElement;
        const held = { left: Math.min(Math.max(spot.left, 0), wide - FIELD.wide), top: Math.min(Math.max(spot.top, 0), high - FIELD.high) };
        const clear = Math.hypot(b.x - a.x, b.y - a.y) > FIELD.high && taken.every((other) => apart(spot, other));
        const inSight = Math.abs(held.left - spot.left) + Math.abs(held.top - spot.top) < 1;
        if (!must && !(clear && inSight && !room.open)) {
          drawLabel(room.walls[i], i, { a, b, hand });
          continue;
        }
        taken.push(must ? held : spot);
        shown.add(i);
        showField(inputOf(i), room.walls[i], held);
        drawDimension(i, { a, b, inward: inwardOf(room, a, b) }, inSight);
      }
      inputs.forEach((input, i) => { input.hidden = !shown.has(i); });
      for (const input of inputs.splice(room.walls.length)) input.remove();
    }

    // The dimension line that a field stands in, where the field is at its place.
    function drawDimension(i, { a, b, inward }, isInPlace) {
      if (!isInPlace) return;
      const [across, up] = [Math.abs(inward.x), Math.abs(inward.y)];
      const off = FIELD.gap + (across * FIELD.wide) / 2 + (up * FIELD.high) / 2;
      const figure = across * FIELD.high + up * FIELD.wide + 4;
      put(layers.marks, `dimension-${i}`, "path", { class: "sketch-dimension", d: lines.dimension(a, b, { off, inward, figure }) });
    }

    function drawLabel(wall, i, { a, b, hand }) {
      const drawn = Math.hypot(b.x - a.x, b.y - a.y);
      if (drawn < 24) return;
      const off = { x: (-14 * hand * (b.y - a.y)) / drawn, y: (14 * hand * (b.x - a.x)) / drawn };
      const middle = { x: (a.x + b.x) / 2 + off.x, y: (a.y + b.y) / 2 + off.y };
      const lean = (Math.atan2(b.y - a.y, b.x - a.x) * 180) / Math.PI;
      const upright = lean > 90.001 || lean <= -90.001 ? lean + 180 : lean;
      const turn = drawn < 96 ? 0 : upright; // a number alone stands upright
      const label = put(layers.marks, `label-${i}`, "text", {
        class: "sketch-label", x: middle.x, y: middle.y, transform: `rotate(${turn} ${middle.x} ${middle.y})`,
      });
      label.textContent = drawn < 96 ? String(i + 1) : `${i + 1}: ${wall.typed || inWords(wall.length)}`;
    }

    function showField(input, wall, { left, top }) {
      input.hidden = false;
      input.style.transform = `translate(${left.toFixed(1)}px, ${top.toFixed(1)}px)`;
      if (input.dataset.dirty) return;
      input.value = wall.typed || inWords(wall.length);
      input.classList.toggle("is-typed", Boolean(wall.typed));
      input.removeAttribute("aria-invalid");
    }

    return { at, draw, fit, inputOf, pan, pieceOf: (key) => kept.get(key), showsAll, under, view, zoom };
  }

  window.rowbookSketch.makeCanvas = makeCanvas;
})();
