// What a hand does to a sketched room: gives a wall its length, moves walls, corners and obstacles.
// Figures only, see sketch-geometry.js; every function changes the room it is handed.
"use strict";

(() => {
  const {
    TINY, area, corners, cross, degreesOf, directions, dot, frame, fromFrame, inFrame,
    minus, newWall, normal, plus, round, tidy, toMiddle,
  } = window.rowbookSketch.geometry;

  // Gives a wall another length. What leads on from it moves along; where the outline is closed,
  // walls that may change (`free`) take up the difference. Returns those that did, or null where
  // none could: then the walk misses its first corner by as much.
  function retype(room, wall, length, free) {
    const ways = directions(room);
    const delta = length - room.walls[wall].length;
    room.walls[wall].length = length;
    if (room.open || Math.abs(delta) < TINY) return [];
    const count = room.walls.length;
    const others = Array.from({ length: count - 1 }, (_, i) => (wall + 1 + i) % count).filter(free);
    const level = others.find((i) => {
      const along = dot(ways[i], ways[wall]);
      return Math.abs(cross(ways[i], ways[wall])) < 1e-4 && room.walls[i].length - delta * along > TINY;
    });
    if (level !== undefined) {
      room.walls[level].length -= delta * dot(ways[level], ways[wall]);
      return [level];
    }
    return spreadOverTwo(room, ways, { wall, delta, others });
  }

  function spreadOverTwo(room, ways, { wall, delta, others }) {
    for (const i of others) {
      for (const j of others) {
        const whole = cross(ways[i], ways[j]);
        if (j <= i || Math.abs(whole) < 1e-4) continue;
        const first = (-delta * cross(ways[wall], ways[j])) / whole;
        const second = (-delta * cross(ways[i], ways[wall])) / whole;
        if (room.walls[i].length + first <= TINY || room.walls[j].length + second <= TINY) continue;
        room.walls[i].length += first;
        room.walls[j].length += second;
        return [i, j].filter((k) => Math.abs(k === i ? first : second) > TINY);
      }
    }
    return null;
  }

  // The room with another length for a wall, and the walls that took up the difference, null where
  // none could. Walls that were typed take it up last, and not at all where they are to be held.
  function giveLength(room, wall, length, hold) {
    const change = (free) => {
      const changed = structuredClone(room);
      const taken = retype(changed, wall, length, free);
      for (const i of taken ?? []) changed.walls[i].typed = "";
      return { changed, taken };
    };
    const untypedGiveWay = change((i) => !room.walls[i].typed);
    return untypedGiveWay.taken || hold ? untypedGiveWay : change(() => true);
  }

  // How far a way leads to the left of a wall.
  const across = (room, wall, by) => dot(by, normal(directions(room)[wall]));

  const beside = (room, wall) => {
    const count = room.walls.length;
    const before = wall > 0 ? wall - 1 : room.open ? null : count - 1;
    const after = wall < count - 1 ? wall + 1 : room.open ? null : 0;
    return { before, after };
  };

  // Moves a wall square to itself by `by` (to its left), the corners keeping their angles. With
  // `snap`, the length of the wall that `of` names ("before", "after") comes out as a multiple.
  // Returns the walls whose lengths change; null where one would have no length left.
  function moveWall(room, wall, by, { snap: step = 0, of = "before" } = {}) {
    const ways = directions(room);
    const left = normal(ways[wall]);
    const { before, after } = beside(room, wall);
    const lean = (i) => (i === null ? 0 : dot(ways[i], left));
    const ruler = { before, after }[of] ?? before ?? after;
    let shift = by;
    if (step && ruler !== null && lean(ruler)) {
      const way = ruler === before ? 1 : -1;
      const wanted = round(room.walls[ruler].length + (way * by) / lean(ruler), step);
      shift = (wanted - room.walls[ruler].length) * lean(ruler) * way;
    }
    if ((before !== null && !lean(before)) || (after !== null && !lean(after))) return null;
    const changes = new Map([[wall, 0]]);
    const change = (i, amount) => changes.set(i, (changes.get(i) ?? 0) + amount);
    const a = before === null ? 0 : shift / lean(before);
    const b = after === null ? 0 : -shift / lean(after);
    if (before !== null) { change(before, a); change(wall, -a * dot(ways[before], ways[wall])); }
    if (after !== null) { change(after, b); change(wall, -b * dot(ways[after], ways[wall])); }
    const changed = [...changes].filter(([, amount]) => Math.abs(amount) > TINY);
    if (changed.some(([i, amount]) => room.walls[i].length + amount <= TINY)) return null;
    for (const [i, amount] of changed) room.walls[i].length += amount;
    if (wall === 0) shiftStart(room, before === null ? { x: left.x * shift, y: left.y * shift } : plus({ x: 0, y: 0 }, ways[before], a));
    if (after === 0) shiftStart(room, plus({ x: 0, y: 0 }, ways[0], -b));
    return changed.map(([i]) => i);
  }

  // The first corner moves; obstacles stay where they are, but for figures that were typed.
  function shiftStart(room, by) {
    const { along, into } = frame(room);
    room.at = plus(room.at, by);
    for (const hole of room.holes) {
      if (!hole.typed.x) hole.x -= dot(by, along);
      if (!hole.typed.y) hole.y -= dot(by, into);
    }
  }

  // Moves a corner by `by`: with its two walls and their angles, or by itself (`square` false).
  // Returns the walls whose lengths or angles change, null where that makes no room.
  function moveCorner(room, corner, by, { square, snap: step = 0 }) {
    const count = room.walls.length;
    const ahead = room.open && corner === count ? null : corner;
    const behind = corner > 0 ? corner - 1 : room.open ? null : count - 1;
    if (!square) return moveFreely(room, corner, by, { ahead, behind, step });
    if (room.open && (ahead === null || behind === null)) return moveEnd(room, by, { ahead, behind, step });
    const ways = directions(room);
    const first = moveWall(room, ahead, dot(by, normal(ways[ahead])), { snap: step, of: "before" });
    const second = first && moveWall(room, behind, dot(by, normal(ways[behind])), { snap: step, of: "after" });
    return second && [...new Set([...first, ...second])];
  }

  // An end of an open walk moves along its wall.
  function moveEnd(room, by, { ahead, behind, step }) {
    if (!room.walls.length) {
      room.at = plus(room.at, by);
      return [];
    }
    const wall = ahead ?? behind;
    const way = directions(room)[wall];
    const along = dot(by, way) * (ahead === null ? 1 : -1);
    const length = step ? round(room.walls[wall].length + along, step) : room.walls[wall].length + along;
    if (length <= TINY) return null;
    if (ahead !== null) shiftStart(room, plus({ x: 0, y: 0 }, way, room.walls[wall].length - length));
    room.walls[wall].length = length;
    return [wall];
  }

  function moveFreely(room, corner, by, { ahead, behind, step }) {
    const points = corners(room);
    const base = frame(room);
    let to = plus(points[corner], by);
    if (step && corner > 0) {
      const { x, y } = inFrame(base, to);
      to = fromFrame(base, { x: round(x, step), y: round(y, step) });
    } else if (step) {
      to = plus(points[0], { x: round(by.x, step), y: round(by.y, step) });
    }
    const wallsThere = [behind, ahead].filter((wall) => wall !== null);
    points[corner] = to;
    return follow(room, points, wallsThere) ? wallsThere : null;
  }

  // Takes lengths of `walls`, and every turn, from where corners lie now.
  function follow(room, points, walls) {
    const ends = room.walls.map((_, i) => minus(points[(i + 1) % points.length], points[i]));
    if (ends.some((end) => Math.hypot(end.x, end.y) < TINY)) return false;
    const headings = ends.map(degreesOf);
    const turns = headings.map((heading, i) => tidy(headings[(i + 1) % headings.length] - heading));
    const held = room.holes.map((hole) => middle(frame(room), hole));
    const bent = (turn) => Math.abs(turn) >= 1 && Math.abs(turn) <= 179;
    if (!turns.every((turn, i) => bent(turn) || (room.open && i === turns.length - 1))) return false;
    room.walls.forEach((wall, i) => {
      if (!(room.open && i === turns.length - 1)) wall.turn = turns[i];
    });
    for (const i of walls) room.walls[i].length = Math.hypot(ends[i].x, ends[i].y);
    room.at = points[0];
    if (headings.length) room.heading = tidy(headings[0]);
    room.holes.forEach((hole, i) => putMiddle(frame(room), hole, held[i]));
    return true;
  }

  const middle = (base, hole) => fromFrame(base, plus(hole, toMiddle(hole)));

  // Obstacles stay where they are when what they are measured from moves, but for typed figures.
  function putMiddle(base, hole, point) {
    const { x, y } = inFrame(base, point);
    if (!hole.typed.x) hole.x = x - toMiddle(hole).x;
    if (!hole.typed.y) hole.y = y - toMiddle(hole).y;
  }

  // Takes a corner out; its two walls become one. False where too few are left.
  function removeCorner(room, corner) {
    const points = corners(room);
    if (room.open) return removeFromOpen(room, corner);
    if (points.length < 4) return false;
    const behind = (corner - 1 + points.length) % points.length;
    points.splice(corner, 1);
    room.walls.splice(corner, 1);
    const joined = corner === 0 ? room.walls.length - 1 : behind;
    room.walls[joined].typed = "";
    return follow(room, points, [joined]);
  }

  function removeFromOpen(room, corner) {
    if (corner !== room.walls.length) return false;
    if (room.walls.length) room.walls.pop();
    else room.at = null;
    return true;
  }

  // Makes an alcove in the middle of a wall, `deep` to the outside and about a third of the wall
  // wide. False where the wall is too short.
  function addAlcove(room, wall, deep) {
    const { length, turn, extra } = room.walls[wall];
    const wide = Math.max(deep, round(length / 3, deep));
    const rest = (length - wide) / 2;
    if (room.open || rest < TINY) return false;
    const out = area(corners(room)) < 0 ? 90 : -90;
    const piece = (size, then) => ({ ...newWall(size, then), extra: { ...extra } });
    room.walls.splice(wall, 1, piece(rest, out), piece(deep, -out), piece(wide, -out), piece(deep, out), piece(rest, turn));
    return true;
  }

  // Moves an obstacle by `by`; with `snap` its figures come out as multiples.
  function moveHole(room, hole, by, { snap: step = 0 } = {}) {
    const base = frame(room);
    const moved = inFrame({ ...base, at: { x: 0, y: 0 } }, by);
    const one = room.holes[hole];
    for (const side of ["x", "y"]) {
      if (!one.typed[side]) one[side] = step ? round(one[side] + moved[side], step) : one[side] + moved[side];
    }
  }

  window.rowbookSketch.moves = { across, addAlcove, giveLength, moveCorner, moveHole, moveWall, removeCorner };
})();
