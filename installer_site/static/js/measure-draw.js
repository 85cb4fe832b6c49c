// The outline while it is typed, drawn at once from the fields; the server's drawing, with the
// closing error spread and all that stands in the room, takes its place when it comes.
"use strict";

(() => {
  const FRAME = 400; // as the server draws it
  const MARGIN = 20;
  const LEAST_NUMBERED = 18; // px of a wall that carries its number
  const TAPE_STEP = { in: 1 / 16, mm: 1 }; // as fine as a tape reads
  const parse = (text, unit) => window.rowbookSketch?.lengths?.parse(text, unit) ?? null;
  const words = (value, unit) => window.rowbookSketch.lengths.words(value, unit);
  const closesWithin = (walked, unit) => window.rowbookSketch.lengths.closesWithin(walked, unit);

  // Walls as typed, up to the first that can't be read: { length, turn } in the job's unit.
  function wallsOf(form, unit) {
    const walls = [];
    const count = Number(form.elements["wall-rows"]?.value ?? 0);
    for (let row = 0; row < count; row += 1) {
      const text = form.elements[`wall-${row}-length`]?.value.trim() ?? "";
      if (!text) continue;
      const length = parse(text, unit);
      if (length === null) break;
      const angle = Number(form.elements[`wall-${row}-angle`]?.value || 90);
      const turn = angle >= 1 && angle <= 179 ? 180 - angle : 90;
      walls.push({ length, turn: form.elements[`wall-${row}-turn`]?.value === "right" ? -turn : turn });
    }
    return walls.length ? walls : rectangle(form, unit);
  }

  function rectangle(form, unit) {
    const sides = ["across", "along"].map((name) => parse(form.elements[name]?.value.trim() ?? "", unit));
    return sides.every(Boolean) ? [0, 1, 0, 1].map((n) => ({ length: sides[n], turn: 90 })) : [];
  }

  // The corners of a walk, y up, beginning at (0, 0) along +x.
  function cornersOf(walls) {
    const corners = [[0, 0]];
    let heading = 0;
    for (const { length, turn } of walls) {
      const [x, y] = corners.at(-1);
      const way = (heading * Math.PI) / 180;
      corners.push([x + length * Math.cos(way), y + length * Math.sin(way)]);
      heading += turn;
    }
    return corners;
  }

  function part(name, attributes, text = "") {
    const made = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    made.textContent = text;
    return made;
  }

  function frameOf(corners) {
    const [xs, ys] = [0, 1].map((axis) => corners.map((corner) => corner[axis]));
    const [left, top] = [Math.min(...xs), Math.max(...ys)];
    const [wide, high] = [Math.max(...xs) - left, top - Math.min(...ys)];
    const scale = (FRAME - 2 * MARGIN) / Math.max(wide, high, 1e-6);
    return {
      size: [wide * scale + 2 * MARGIN, high * scale + 2 * MARGIN],
      at: ([x, y]) => [(x - left) * scale + MARGIN, (top - y) * scale + MARGIN],
    };
  }

  const listOf = (points) => points.map((point) => point.map((value) => value.toFixed(1)).join(",")).join(" ");

  // The drawing of a walk; what it is short of its first corner is drawn dashed.
  function draw(walls) {
    const corners = cornersOf(walls);
    const frame = frameOf(corners);
    const points = corners.map(frame.at);
    const svg = part("svg", { viewBox: `0 0 ${frame.size.map((side) => side.toFixed(1)).join(" ")}`, role: "img", "font-size": "14", "aria-label": "Outline as typed so far" });
    const line = { fill: "none", stroke: "currentColor" };
    svg.append(part("polyline", { ...line, class: "wall", points: listOf(points) }));
    svg.append(part("polyline", { ...line, class: "open", points: listOf([points.at(-1), points[0]]) }));
    const [x, y] = points[0];
    svg.append(part("circle", { ...line, class: "ring", cx: x.toFixed(1), cy: y.toFixed(1), r: 5 }));
    points.slice(1).forEach((to, n) => numberOf(svg, points[n], to, n + 1));
    return svg;
  }

  function numberOf(svg, [ax, ay], [bx, by], number) {
    if (Math.hypot(bx - ax, by - ay) < LEAST_NUMBERED) return;
    const place = { x: ((ax + bx) / 2).toFixed(1), y: ((ay + by) / 2).toFixed(1) };
    svg.append(part("text", { ...place, "text-anchor": "middle", "dominant-baseline": "central", class: "dim" }, String(number)));
  }

  // How far the walk is from its first corner, in words; empty where it is back there.
  function shortOf(walls, unit) {
    const [x, y] = cornersOf(walls).at(-1);
    const walked = walls.reduce((sum, wall) => sum + wall.length, 0);
    const gap = Math.hypot(x, y);
    if (gap <= closesWithin(walked, unit)) return "";
    const onTape = Math.round(gap / TAPE_STEP[unit]) * TAPE_STEP[unit];
    return `${words(onTape, unit)} to the first corner`;
  }

  // A figure with the outline of what is typed so far, null where nothing can be drawn.
  function figure(form, unit) {
    const walls = wallsOf(form, unit);
    if (!walls.length) return null;
    const made = document.createElement("figure");
    made.className = "drawing sketch live";
    const caption = document.createElement("figcaption");
    const short = walls.length > 1 ? shortOf(walls, unit) : "";
    caption.textContent = `${walls.length} wall${walls.length === 1 ? "" : "s"} typed${short ? `, ${short}` : ""}.`;
    made.append(draw(walls), caption);
    return made;
  }

  (window.rowbookMeasure ??= {}).figure = figure;
})();
