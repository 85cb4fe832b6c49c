// Tools of a sketch: obstacles placed and given their figures, alcoves added, corners and obstacles
// taken out. What they change goes through sketch.js, which reads and writes the form.
"use strict";

(() => {
  const { lengths, geometry, moves, form: rows, hand } = window.rowbookSketch;
  if (!hand) return;
  const { box, form, svg, kinds, kindNames, unit, part, commit, notRead, refuse, show, state } = hand;
  const GRID = lengths.grid(unit);
  const ROUND = ["column", "pipe", "flange"]; // these may be round
  // Diagonals and bow readings go by the numbers of corners and walls, which must stay then.
  const READINGS = "Diagonals or bow readings go by the numbers of these walls; remove them first.";
  const DOORWAYS = Number(box.dataset.doorways) ? " Doorways go by the walls' numbers too: check each after saving." : "";

  const words = (value) => lengths.words(value, unit);

  // Obstacles

  function startPlacing() {
    if (state.room.open) return refuse("An obstacle stands in a closed outline; close it first.");
    state.placing = !state.placing;
    if (!state.placing) return show("Nothing is placed.");
    const points = geometry.corners(state.room);
    const middle = points.reduce((sum, point) => geometry.plus(sum, point, 1 / points.length), { x: 0, y: 0 });
    state.cursor = middle;
    svg.focus({ preventScroll: true });
    return show(`Tap where the ${kindNames.get(kinds.value).toLowerCase()} stands, or move the cross with the arrow keys and press Enter.`);
  }

  function placeObstacle(point) {
    const middle = geometry.inFrame(geometry.frame(state.room), point);
    const changed = structuredClone(state.room);
    const hole = rows.newHole(kinds.value, unit);
    const { x, y } = geometry.minus(middle, geometry.toMiddle(hole));
    changed.holes.push({ ...hole, x: geometry.round(x, GRID), y: geometry.round(y, GRID) });
    [state.placing, state.cursor] = [false, null];
    state.selected = `hole-${changed.holes.length - 1}`;
    return commit(changed, `${kindNames.get(kinds.value)} placed. Drag it, or type its figures.`);
  }

  function commitFigure(input) {
    const { kind, i } = state.selected ? part(state.selected) : {};
    if (!input.dataset.dirty || kind !== "hole") return true;
    const name = input.dataset.figure;
    const typed = input.value.trim();
    const label = input.labels[0].textContent;
    const parse = name === "x" || name === "y" ? lengths.parsePlace : lengths.parse;
    const length = typed ? parse(typed, unit) : state.room.holes[i][name];
    const rounds = name === "depth" && !typed && ROUND.includes(state.room.holes[i].extra.kind);
    if (length === null && !rounds) return notRead(input, label);
    delete input.dataset.dirty;
    const changed = structuredClone(state.room);
    const hole = changed.holes[i];
    const middle = geometry.plus(hole, geometry.toMiddle(hole));
    hole[name] = rounds ? null : length;
    hole.typed[name] = typed;
    if (name === "depth" && (hole.depth === null) !== (state.room.holes[i].depth === null)) {
      Object.assign(hole, geometry.minus(middle, geometry.toMiddle(hole)));
      Object.assign(hole.typed, { x: "", y: "" });
    }
    return commit(changed, hole[name] === null ? `${label}: none, it is round and measured to its middle.` : `${label}: ${words(length)}.`);
  }

  // Alcoves, and what is taken out

  function remove() {
    const { kind, i } = part(state.selected);
    const changed = structuredClone(state.room);
    if (kind === "corner" && !state.room.open && rows.hasReadings(form)) return refuse(READINGS);
    if (kind === "hole") changed.holes.splice(i, 1);
    else if (!moves.removeCorner(changed, i)) {
      return refuse(state.room.open ? "Only the last corner of an open walk is taken out; Undo brings it back." : "Without this corner there would be no room.");
    }
    state.selected = "";
    return commit(changed, kind === "hole" ? "The obstacle is taken out." : `The corner is taken out.${DOORWAYS}`);
  }

  function addAlcove() {
    const { i } = part(state.selected);
    const changed = structuredClone(state.room);
    if (rows.hasReadings(form)) return refuse(READINGS);
    if (!moves.addAlcove(changed, i, GRID * 4)) return refuse("This wall is too short for an alcove.");
    state.selected = `wall-${i + 2}`;
    return commit(changed, `An alcove is added: walls ${i + 1} to ${i + 5}. Type their lengths.${DOORWAYS}`);
  }

  Object.assign(hand, { commitFigure, placeObstacle, remove });
  Object.assign(hand.tools, { alcove: addAlcove, remove, place: startPlacing });
})();
