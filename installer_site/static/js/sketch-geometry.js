// The room of a sketch as figures: walls in walking order, each with its length and the turn at its
// far end in degrees (left positive); where the walk begins and which way it heads. Pure: every
// function is handed a room, and those that change it change the one they are handed.
//
//   room = { open, at: {x, y} or null, heading,
//            walls: [{ length, turn, typed, extra }],      typed: the text as typed, or ""
//            holes: [{ x, y, width, depth or null, typed: {}, extra }] }
"use strict";

(() => {
  const TINY = 1e-6;
  const EXACT = 0.01; // degrees; a turn so near to a square one is square

  // Directions and corners

  const plus = (a, b, times = 1) => ({ x: a.x + b.x * times, y: a.y + b.y * times });
  const minus = (a, b) => ({ x: a.x - b.x, y: a.y - b.y });
  const dot = (a, b) => a.x * b.x + a.y * b.y;
  const cross = (a, b) => a.x * b.y - a.y * b.x;
  const normal = (u) => ({ x: -u.y, y: u.x });
  const distance = (a, b) => Math.hypot(a.x - b.x, a.y - b.y);
  const round = (value, step) => Math.round(value / step) * step;

  function direction(degrees) {
    const quarter = degrees / 90;
    if (Math.abs(quarter - Math.round(quarter)) < TINY) {
      const [x, y] = [[1, 0], [0, 1], [-1, 0], [0, -1]][((Math.round(quarter) % 4) + 4) % 4];
      return { x, y };
    }
    return { x: Math.cos((degrees * Math.PI) / 180), y: Math.sin((degrees * Math.PI) / 180) };
  }

  const degreesOf = (v) => (Math.atan2(v.y, v.x) * 180) / Math.PI;

  // An angle between -180 and 180, square where it is as good as square.
  function tidy(degrees) {
    const turn = degrees - 360 * Math.round(degrees / 360);
    const square = round(turn, 90);
    return Math.abs(turn - square) < EXACT ? square : Number(turn.toFixed(4));
  }

  function directions(room) {
    let heading = room.heading;
    return room.walls.map((wall) => {
      const way = direction(heading);
      heading += wall.turn;
      return way;
    });
  }

  // By how much the walk misses its first corner; nothing while it is open.
  function miss(room) {
    if (room.open) return { x: 0, y: 0 };
    return directions(room).reduce((sum, way, i) => plus(sum, way, room.walls[i].length), { x: 0, y: 0 });
  }

  // The corners, the closing error spread over the walls by the compass rule (Bowditch). An open
  // walk has one corner more than walls.
  function corners(room) {
    if (!room.at) return [];
    const over = miss(room);
    const whole = room.walls.reduce((sum, wall) => sum + wall.length, 0) || 1;
    const points = [room.at];
    directions(room).forEach((way, i) => {
      const { length } = room.walls[i];
      points.push(plus(plus(points[i], way, length), over, -length / whole));
    });
    return room.open ? points : points.slice(0, -1);
  }

  function area(points) {
    return points.reduce((sum, a, i) => sum + cross(a, points[(i + 1) % points.length]), 0) / 2;
  }

  // Along the first wall, and square to it into the room: what obstacles are measured by.
  function frame(room) {
    const along = direction(room.heading);
    const into = area(corners(room)) < 0 ? { x: along.y, y: -along.x } : normal(along);
    return { at: room.at, along, into };
  }

  function inFrame({ at, along, into }, point) {
    const from = minus(point, at);
    return { x: dot(from, along), y: dot(from, into) };
  }

  const fromFrame = ({ at, along, into }, { x, y }) => plus(plus(at, along, x), into, y);

  // The outline of an obstacle. One without depth is round and measured to its middle.
  function sides(room, hole) {
    const base = frame(room);
    const far = { x: hole.x + hole.width, y: hole.y + hole.depth };
    const corner = [[hole.x, hole.y], [far.x, hole.y], [far.x, far.y], [hole.x, far.y]];
    const round = Array.from({ length: 24 }, (_, i) => {
      const way = direction(i * 15);
      return [hole.x + (way.x * hole.width) / 2, hole.y + (way.y * hole.width) / 2];
    });
    return (hole.depth === null ? round : corner).map(([x, y]) => fromFrame(base, { x, y }));
  }

  // From the point that an obstacle is measured to, to its middle.
  const toMiddle = (hole) => (hole.depth === null ? { x: 0, y: 0 } : { x: hole.width / 2, y: hole.depth / 2 });

  // The two walls of an outline that meet, or null.
  function crossing(room) {
    const points = corners(room);
    const ends = room.walls.map((_, i) => [points[i], points[(i + 1) % points.length]]);
    for (let j = 2; j < ends.length; j += 1) {
      for (let i = 0; i < j - 1; i += 1) {
        if (!room.open && i === 0 && j === ends.length - 1) continue;
        if (meet(...ends[i], ...ends[j])) return [i, j];
      }
    }
    return null;
  }

  function meet(a, b, c, d) {
    const side = (p, q, r) => Math.sign(Number(cross(minus(q, p), minus(r, p)).toFixed(6)));
    const inside = (p, q, r) => dot(minus(r, p), minus(r, q)) <= TINY;
    const [s1, s2, s3, s4] = [side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)];
    if (s1 !== s2 && s3 !== s4 && s1 * s2 <= 0 && s3 * s4 <= 0) return true;
    return (!s1 && inside(a, b, c)) || (!s2 && inside(a, b, d)) || (!s3 && inside(c, d, a)) || (!s4 && inside(c, d, b));
  }

  // Corner after corner

  const newWall = (length, turn = 90) => ({ length, turn, typed: "", extra: {} });

  // Where a corner goes that was pointed at: on the grid, square to the walls, on the first corner
  // or level with it. `near` is how far, in units of the room, counts as meant.
  function snap(room, point, { grid, near, square }) {
    if (!room.at) return { point: { x: round(point.x, grid), y: round(point.y, grid) }, closes: false };
    if (room.walls.length > 1 && distance(point, room.at) <= near) return { point: room.at, closes: true };
    const base = { at: room.at, along: direction(room.heading), into: normal(direction(room.heading)) };
    const last = inFrame(base, corners(room).at(-1));
    const meant = inFrame(base, point);
    const put = { x: round(meant.x, grid), y: round(meant.y, grid) };
    const go = { x: Math.abs(meant.x - last.x), y: Math.abs(meant.y - last.y) };
    for (const [way, across] of [["x", "y"], ["y", "x"]]) {
      if (square && go[across] <= Math.max(go[way] * 0.27, grid / 2)) {
        put[across] = last[across];
        if (Math.abs(meant[way]) <= near) put[way] = 0;
        break;
      }
    }
    return { point: fromFrame(base, put), closes: false };
  }

  // Adds a wall to a point. Returns false where it would lead nowhere or back on the last wall.
  function addCorner(room, point) {
    if (!room.at) {
      room.at = point;
      return true;
    }
    const end = corners(room).at(-1);
    const length = distance(end, point);
    if (length < TINY) return false;
    const heading = degreesOf(minus(point, end));
    if (!room.walls.length) {
      room.heading = tidy(heading);
      room.walls.push(newWall(length));
      return true;
    }
    return leadOn(room, length, heading);
  }

  function leadOn(room, length, heading) {
    const last = room.walls.at(-1);
    const before = room.walls.slice(0, -1).reduce((sum, wall) => sum + wall.turn, room.heading);
    const turn = tidy(heading - before);
    if (Math.abs(turn) > 179) return false;
    if (Math.abs(turn) < 1) {
      Object.assign(last, { length: last.length + length, typed: "" });
      return true;
    }
    last.turn = turn;
    room.walls.push(newWall(length));
    return true;
  }

  // Leads the walk back to its first corner and closes it.
  function close(room) {
    const end = corners(room).at(-1);
    if (room.walls.length < 2) return false;
    if (distance(end, room.at) > TINY && !addCorner(room, room.at)) return false;
    const last = room.walls.at(-1);
    const heading = room.walls.slice(0, -1).reduce((sum, wall) => sum + wall.turn, room.heading);
    last.turn = tidy(room.heading - heading);
    room.open = false;
    if (Math.abs(last.turn) < 1 && room.walls.length > 3) {
      room.at = corners(room).at(-1);
      Object.assign(room.walls[0], { length: room.walls[0].length + last.length, typed: "" });
      room.walls.pop();
    }
    return room.walls.length > 2;
  }

  const sketch = (window.rowbookSketch ??= {});
  sketch.geometry = {
    TINY, addCorner, area, close, corners, cross, crossing, degreesOf, directions, distance, dot,
    frame, fromFrame, inFrame, minus, miss, newWall, normal, plus, round, sides, snap, tidy, toMiddle,
  };
})();
