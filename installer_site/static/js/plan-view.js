// A plan on screen: the drawing is zoomed and moved in its frame, a piece chosen by tap, click or
// key, rows stepped through as they are laid. The words come from the page's own links, which also
// work without this script. Moving is the browser's own scrolling, so that it stays smooth.
"use strict";

(() => {
  const MOST = 16; // how many times larger than fitted
  const STEP = 1.5;
  const PHONE = 640; // a frame no wider than this begins large enough to be read
  const LEGIBLE = 11.2; // pixels of the smallest lettering then
  const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

  for (const figure of document.querySelectorAll("[data-plan-view]")) view(figure);

  function view(figure) {
    const svg = figure.querySelector("svg");
    if (!svg) return;
    const paper = document.createElement("div");
    const pieces = [...svg.querySelectorAll("[data-piece]")];
    const byId = new Map(pieces.map((piece) => [piece.dataset.piece, piece]));
    const [across, down] = svg.getAttribute("viewBox").split(/[\s,]+/).map(Number).slice(2);
    let scale = 1; // 1 is the whole drawing in its frame
    let active = null; // the piece that keys start from
    let middles = null;

    // The frame

    function build() {
      paper.className = "plan-paper";
      svg.replaceWith(paper);
      paper.append(svg);
      figure.prepend(tools());
      // Only the pieces can be pointed at; the rest is told by the title and the tables.
      svg.setAttribute("role", "group");
      for (const part of svg.children) {
        if (!part.querySelector("[data-piece]") && !["title", "desc"].includes(part.tagName)) part.setAttribute("aria-hidden", "true");
      }
      if (pieces.length) activate(pieces[0]);
      show();
      if (paper.clientWidth <= PHONE) enlarge();
      new ResizeObserver(show).observe(paper);
    }

    function tools() {
      const bar = document.createElement("div");
      bar.className = "plan-tools no-print";
      for (const [label, act] of [["Zoom in", () => zoom(STEP)], ["Zoom out", () => zoom(1 / STEP)], ["Fit", fit]]) {
        const button = document.createElement("button");
        Object.assign(button, { type: "button", textContent: label });
        button.addEventListener("click", act);
        bar.append(button);
      }
      return bar;
    }

    const fitted = () => Math.min(paper.clientWidth, (paper.clientHeight * across) / down);

    // The frame is as high as the whole drawing needs, within what a window leaves for it.
    function show() {
      const high = (paper.clientWidth * down) / across;
      paper.style.height = `${Math.min(Math.max(high, 320), window.innerHeight * 0.7)}px`;
      svg.style.width = `${(fitted() * scale).toFixed(1)}px`;
    }

    // On a phone the whole drawing would be too small to read: it begins where row one begins, as
    // large as its smallest lettering needs.
    function enlarge() {
      const sizes = [...svg.querySelectorAll("[font-size]")].map((one) => Number(one.getAttribute("font-size")));
      scale = Math.min(Math.max((LEGIBLE * across) / Math.min(...sizes, across) / fitted(), 1), MOST);
      show();
      const frame = paper.getBoundingClientRect();
      const ring = (svg.querySelector(".ring") ?? svg).getBoundingClientRect();
      const whole = svg.getBoundingClientRect();
      const edge = (at, from, size) => (at - from < size / 2 ? 0.2 : 0.8);
      paper.scrollLeft += ring.left - frame.left - frame.width * edge(ring.left, whole.left, whole.width);
      paper.scrollTop += ring.top - frame.top - frame.height * edge(ring.top, whole.top, whole.height);
    }

    // Zooms so that what lies at a point of the frame stays there.
    function zoom(times, at = { x: paper.clientWidth / 2, y: paper.clientHeight / 2 }) {
      const before = svg.getBoundingClientRect();
      const frame = paper.getBoundingClientRect();
      const share = { x: (frame.left + at.x - before.left) / before.width, y: (frame.top + at.y - before.top) / before.height };
      scale = Math.min(Math.max(scale * times, 1), MOST);
      show();
      const after = svg.getBoundingClientRect();
      paper.scrollLeft += after.left + share.x * after.width - frame.left - at.x;
      paper.scrollTop += after.top + share.y * after.height - frame.top - at.y;
    }

    function fit() {
      scale = 1;
      show();
    }

    // Brings shapes into the frame where they are out of it.
    function bringIn(shapes) {
      const boxes = shapes.map((shape) => shape.getBoundingClientRect());
      const frame = paper.getBoundingClientRect();
      const [left, right] = [Math.min(...boxes.map((b) => b.left)), Math.max(...boxes.map((b) => b.right))];
      const [top, bottom] = [Math.min(...boxes.map((b) => b.top)), Math.max(...boxes.map((b) => b.bottom))];
      if (left < frame.left || right > frame.right) paper.scrollLeft += (left + right - frame.left - frame.right) / 2;
      if (top < frame.top || bottom > frame.bottom) paper.scrollTop += (top + bottom - frame.top - frame.bottom) / 2;
    }

    // Pieces

    // One piece at a time can be reached by Tab; arrow keys go on from it.
    function activate(piece) {
      if (piece === active) return;
      for (const name of ["role", "tabindex", "aria-label"]) active?.removeAttribute(name);
      active = piece;
      piece.setAttribute("role", "button");
      piece.setAttribute("tabindex", "0");
      piece.setAttribute("aria-label", `Piece ${piece.dataset.piece}`);
    }

    function mark(name, chosen) {
      for (const piece of svg.querySelectorAll(`.${name}`)) piece.classList.remove(name);
      for (const piece of chosen) piece.classList.add(name);
    }

    function choose(id) {
      const piece = byId.get(id);
      if (piece) {
        mark("is-chosen", [piece]);
        activate(piece);
        bringIn([piece]);
      }
      load(figure.dataset.pieceUrl, id, "piece-detail");
    }

    const rowOf = (id) => id.slice(0, id.lastIndexOf("-"));
    const inRow = (row) => pieces.filter((piece) => rowOf(piece.dataset.piece) === String(row));

    function showRow(row) {
      const chosen = inRow(row);
      mark("is-row", chosen);
      if (chosen.length) bringIn(chosen);
    }

    async function load(url, value, target) {
      const box = document.getElementById(target);
      if (!url || !box || !window.htmx) {
        window.location.assign(`${url}${encodeURIComponent(value)}#${target}`);
        return;
      }
      const address = `${url}${encodeURIComponent(value)}`;
      await window.htmx.ajax("GET", address, { target: box, swap: "innerHTML" });
      window.history.replaceState(window.history.state, "", address);
    }

    // The nearest piece that way; what lies aside counts against it.
    function neighbor(from, [x, y]) {
      middles ??= new Map(pieces.map((piece) => [piece, piece.getBBox()]));
      const start = middles.get(from);
      const between = (low, size, other, otherSize) => Math.max(0, other - (low + size), low - (other + otherSize));
      let best = null;
      for (const [piece, box] of middles) {
        const go = (box.x + box.width / 2 - start.x - start.width / 2) * x + (box.y + box.height / 2 - start.y - start.height / 2) * y;
        if (piece === from || go <= 0.5) continue;
        const aside = x ? between(start.y, start.height * 0.5, box.y, box.height * 0.5) : between(start.x, start.width * 0.5, box.x, box.width * 0.5);
        const ahead = x ? between(start.x, start.width, box.x, box.width) : between(start.y, start.height, box.y, box.height);
        const off = x ? 0 : Math.abs(box.x + box.width / 2 - start.x - start.width / 2) / 1000;
        const far = ahead + 3 * aside + go / 1000 + off;
        if (!best || far < best.far) best = { piece, far };
      }
      return best?.piece;
    }

    function onKey(event) {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const keys = { "+": () => zoom(STEP), "=": () => zoom(STEP), "-": () => zoom(1 / STEP), 0: fit };
      const piece = event.target.closest?.("[data-piece]");
      if (keys[event.key]) keys[event.key]();
      else if (piece && WAYS[event.key]) step(piece, WAYS[event.key]);
      else if (piece && (event.key === "Enter" || event.key === " ")) choose(piece.dataset.piece);
      else return;
      event.preventDefault();
    }

    function step(piece, way) {
      const next = neighbor(piece, way);
      if (!next) return;
      activate(next);
      next.focus({ preventScroll: true });
      bringIn([next]);
    }

    // A mouse drags the paper; a finger scrolls it by itself.

    let held = null;

    function onDown(event) {
      if (event.pointerType !== "mouse" || event.button) return;
      held = { x: event.clientX, y: event.clientY, left: paper.scrollLeft, top: paper.scrollTop, moved: false };
    }

    function onMove(event) {
      if (!held) return;
      const by = { x: event.clientX - held.x, y: event.clientY - held.y };
      if (!held.moved && Math.hypot(by.x, by.y) < 4) return;
      if (!held.moved) paper.setPointerCapture(event.pointerId);
      held.moved = true;
      paper.scrollTo(held.left - by.x, held.top - by.y);
    }

    // After a drag the click goes to the paper, which holds the pointer, and so to no piece.
    function onUp() {
      held = null;
    }

    // Two fingers: the paper is stretched as a picture and drawn anew once they are off.

    let pinch = null;

    const fingers = ([a, b]) => {
      const frame = paper.getBoundingClientRect();
      return {
        apart: Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY) || 1,
        x: (a.clientX + b.clientX) / 2 - frame.left,
        y: (a.clientY + b.clientY) / 2 - frame.top,
      };
    };

    function onTouch(event) {
      if (event.touches.length !== 2) return;
      event.preventDefault();
      const now = fingers(event.touches);
      if (!pinch) {
        pinch = { ...now, times: 1 };
        svg.style.transformOrigin = `${now.x + paper.scrollLeft}px ${now.y + paper.scrollTop}px`;
        return;
      }
      pinch.times = Math.min(Math.max(now.apart / pinch.apart, 1 / scale), MOST / scale);
      svg.style.transform = `scale(${pinch.times})`;
    }

    function onTouchEnd(event) {
      if (!pinch || event.touches.length > 1) return;
      const { times, x, y } = pinch;
      pinch = null;
      svg.style.transform = "";
      zoom(times, { x, y });
    }

    function onWheel(event) {
      if (!event.ctrlKey) return;
      event.preventDefault();
      const frame = paper.getBoundingClientRect();
      zoom(Math.exp(-event.deltaY / 200), { x: event.clientX - frame.left, y: event.clientY - frame.top });
    }

    paper.addEventListener("pointerdown", onDown);
    paper.addEventListener("pointermove", onMove);
    for (const name of ["pointerup", "pointercancel"]) paper.addEventListener(name, onUp);
    for (const name of ["touchstart", "touchmove"]) paper.addEventListener(name, onTouch, { passive: false });
    for (const name of ["touchend", "touchcancel"]) paper.addEventListener(name, onTouchEnd);
    paper.addEventListener("wheel", onWheel, { passive: false });
    figure.addEventListener("keydown", onKey);
    svg.addEventListener("click", (event) => {
      const piece = event.target.closest("[data-piece]");
      if (piece) choose(piece.dataset.piece);
    });

    // The page's own links

    document.addEventListener("click", async (event) => {
      const link = event.target.closest?.("[data-piece-link], [data-row-step]");
      if (!link || event.ctrlKey || event.metaKey || event.shiftKey || !window.htmx) return;
      event.preventDefault();
      const { pieceLink, rowStep } = link.dataset;
      const box = document.getElementById(pieceLink ? "piece-detail" : "row-now");
      const from = Number(document.querySelector("[data-row-now]")?.dataset.rowNow ?? 0);
      const within = box.contains(link);
      if (!within) figure.scrollIntoView({ block: "nearest" });
      if (pieceLink) choose(pieceLink);
      else await load(figure.dataset.rowUrl, rowStep, "row-now");
      if (rowStep) showRow(rowStep);
      if (rowStep && within) keepFocus(box, Number(rowStep), Number(rowStep) > from);
    });

    // The focus stays on the step that was pressed, forward or back.
    function keepFocus(box, row, forward) {
      const links = [...box.querySelectorAll("[data-row-step]")];
      const wanted = links.find((link) => Number(link.dataset.rowStep) > row === forward);
      (wanted ?? links[0])?.focus({ preventScroll: true });
    }

    build();
    const shown = document.querySelector("[data-row-now]")?.dataset.rowNow;
    if (shown) showRow(shown);
    const chosen = byId.get(new URLSearchParams(window.location.search).get("piece"));
    if (chosen) {
      mark("is-chosen", [chosen]);
      activate(chosen);
    }
  }
})();
