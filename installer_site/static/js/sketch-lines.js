// The line work of a sketch, as paths: snapped chalk at corners, dimension lines, register marks of
// the sheet, bowed walls. Pure: points of the paper in, text of a path out.
"use strict";

(() => {
  const OVER = 11; // px that a snapped line runs on beyond its corner
  const TICK = 5; // px to each side of a slash at the end of a dimension line
  const LEAST_BOW = 9; // px that the largest reading of a bow is drawn at, however small it is

  const along = (a, b) => {
    const length = Math.hypot(b.x - a.x, b.y - a.y) || 1;
    return { x: (b.x - a.x) / length, y: (b.y - a.y) / length, length };
  };
  const on = (p, way, times) => ({ x: p.x + way.x * times, y: p.y + way.y * times });
  const spot = ({ x, y }) => `${x.toFixed(1)} ${y.toFixed(1)}`;
  const stroke = (a, b) => `M${spot(a)}L${spot(b)}`;

  // A corner as chalk leaves it: each line that meets there runs on a little beyond it.
  function handle(point, neighbors) {
    return neighbors.filter(Boolean).map((other) => stroke(point, on(point, along(other, point), OVER))).join("") || stroke(on(point, { x: 1, y: 0 }, -OVER), on(point, { x: 1, y: 0 }, OVER));
  }

  // The corner that the walk begins at: a small square on its point.
  function start({ x, y }) {
    return `M${spot({ x: x - 6, y })}L${spot({ x, y: y - 6 })}L${spot({ x: x + 6, y })}L${spot({ x, y: y + 6 })}Z`;
  }

  // A dimension line beside a wall, broken where its figure stands, with a slash at both ends.
  function dimension(a, b, { off, inward, figure }) {
    const way = along(a, b);
    const [from, to] = [on(a, inward, off), on(b, inward, off)];
    const half = figure / 2;
    const middle = on(from, way, way.length / 2);
    const slash = { x: (way.x + inward.x) * Math.SQRT1_2, y: (way.y + inward.y) * Math.SQRT1_2 };
    const ends = [from, to].map((end) => stroke(on(end, slash, -TICK), on(end, slash, TICK)));
    const lines = way.length / 2 > half ? [stroke(from, on(middle, way, -half)), stroke(on(middle, way, half), to)] : [];
    const feet = [[a, from], [b, to]].map(([corner, end]) => stroke(on(corner, inward, 6), on(end, inward, 4)));
    return [...lines, ...ends, ...feet].join("");
  }

  // Small crosses, a foot or more apart, as far as the sheet shows.
  function marks(first, apart, { wide, high }) {
    const crosses = [];
    for (let x = ((first.x % apart) + apart) % apart; x < wide; x += apart) {
      for (let y = ((first.y % apart) + apart) % apart; y < high; y += apart) {
        crosses.push(`M${(x - 3).toFixed(1)} ${y.toFixed(1)}h6M${x.toFixed(1)} ${(y - 3).toFixed(1)}v6`);
      }
    }
    return crosses.join("");
  }

  // A bowed wall through its readings, its largest one drawn so that it is seen.
  function bow(a, b, { readings, inward, scale }) {
    const way = along(a, b);
    const most = Math.max(...readings.map(({ into }) => Math.abs(into))) * scale || 1;
    const times = scale * Math.max(1, LEAST_BOW / most);
    const through = [...readings].sort((p, q) => p.along - q.along)
      .map(({ along: far, into }) => on(on(a, way, Math.min(far * scale, way.length)), inward, into * times));
    return `M${[a, ...through, b].map(spot).join("L")}`;
  }

  (window.rowbookSketch ??= {}).lines = { bow, dimension, handle, marks, start };
})();
