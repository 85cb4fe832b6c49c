// The page of a day's log under a thumb: as planned at once, rows by a tap on the drawing, hours by
// quarters without a keyboard, a tap for every spoiled plank. Without it the fields are typed.
"use strict";

(() => {
  const form = document.getElementById("log-form");
  if (!form || !form.classList.contains("log-crew")) return;
  const changed = (input) => input.dispatchEvent(new Event("change", { bubbles: true }));
  const words = (hours) => String(Math.round(hours * 100) / 100);

  function button(text, act, label = "") {
    const made = document.createElement("button");
    made.type = "button";
    made.textContent = text;
    if (label) made.setAttribute("aria-label", label);
    made.addEventListener("click", act);
    return made;
  }

  // A mark of this phone, by which two phones that say the same day are told apart.

  function phoneMark() {
    try {
      const kept = localStorage.getItem("rowbook-phone");
      if (kept) return kept;
      const bytes = crypto.getRandomValues(new Uint8Array(16));
      const mark = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
      localStorage.setItem("rowbook-phone", mark);
      return mark;
    } catch (noStore) {
      return "";
    }
  }

  const setPhone = () => { form.elements.phone.value = phoneMark(); };

  // As planned

  const planned = [...form.querySelectorAll("[data-planned]")];
  document.getElementById("as-planned").addEventListener("click", (event) => {
    event.preventDefault();
    for (const input of planned) input.value = input.dataset.planned;
    planned.forEach(changed);
    document.getElementById("as-planned-said").textContent = "Filled in. Now change only what was different.";
  });

  // Hours: a tap picks a cell, the buttons below its line go by quarters.

  const cells = [...form.querySelectorAll(".log-cell input")];
  const step = document.createElement("div");
  step.className = "log-step";
  let current = null;

  function add(hours) {
    const value = Math.min(24, Math.max(0, (Number(current.value) || 0) + hours));
    current.value = value ? words(value) : "";
    changed(current);
  }

  const shown = document.createElement("b");
  step.append(
    button("− 1", () => add(-1), "− 1 hour"), button("− ¼", () => add(-0.25), "− ¼ hour"), shown,
    button("+ ¼", () => add(0.25), "+ ¼ hour"), button("+ 1", () => add(1), "+ 1 hour"),
  );

  function pick(input) {
    current = input;
    input.closest(".log-line").after(step);
    cells.forEach((each) => each.classList.toggle("picked", each === input));
    tell();
  }

  for (const input of cells) {
    input.inputMode = "none";
    input.addEventListener("focus", () => pick(input));
  }

  function tell() {
    const sum = cells.reduce((all, input) => all + (Number(input.value) || 0), 0);
    document.getElementById("log-total").textContent = `Total ${words(sum)} h`;
    if (current) shown.textContent = `${current.value || 0} h`;
    for (const input of cells) {
      const plan = input.dataset.planned ?? "";
      input.classList.toggle("changed", Boolean(input.value) && input.value !== plan);
    }
  }

  // Rows: a tap on the drawing is the last whole row; the buttons are for the row beside it.

  function rowsOf(box) {
    const input = box.querySelector("input");
    const rows = [...box.querySelectorAll("[data-row]")];
    const effect = box.querySelector(".log-effect");
    const [of, down] = [Number(box.dataset.of), Number(box.dataset.down)];
    const set = (row) => {
      input.value = Math.min(of, Math.max(1, row));
      changed(input);
    };
    const draw = () => {
      const last = Number(input.value) || down;
      for (const row of rows) {
        const number = Number(row.dataset.row);
        row.setAttribute("class", number <= down ? "down" : number <= last ? "today" : "");
      }
      const left = last + 1 < of ? `Rows ${last + 1} to ${of} to come.` : last < of ? `Row ${of} to come.` : "All rows are down.";
      const today = last > down ? `Today rows ${down + 1} to ${last}. ` : "";
      effect.textContent = today + left;
    };
    box.querySelector("svg")?.addEventListener("click", (event) => set(nearest(rows, event)));
    input.inputMode = "none";
    input.parentElement.prepend(button("−", () => set((Number(input.value) || down + 1) - 1), "− row"));
    input.parentElement.append(button("+", () => set((Number(input.value) || down) + 1), "+ row"));
    box.addEventListener("change", draw);
    draw();
    return draw;
  }

  function nearest(rows, event) {
    const hit = event.target.closest("[data-row]");
    if (hit) return Number(hit.dataset.row);
    const far = (row) => {
      const box = row.getBoundingClientRect();
      const x = Math.max(box.left - event.clientX, 0, event.clientX - box.right);
      const y = Math.max(box.top - event.clientY, 0, event.clientY - box.bottom);
      return Math.hypot(x, y);
    };
    return Number(rows.reduce((best, row) => (far(row) < far(best) ? row : best)).dataset.row);
  }

  // Spoiled planks: a tap is a plank.

  function reasonOf(box) {
    const input = box.querySelector("input");
    const label = box.querySelector("label").textContent;
    const count = document.createElement("b");
    const more = button(label, () => { input.value = (Number(input.value) || 0) + 1; changed(input); });
    const less = button("−", () => { input.value = Number(input.value) - 1 || ""; changed(input); }, `− ${label}`);
    more.append(count);
    box.append(more, less);
    box.classList.add("tapped");
    input.tabIndex = -1;
    const draw = () => {
      count.textContent = input.value;
      less.hidden = !input.value;
      box.classList.toggle("some", Boolean(input.value));
    };
    box.addEventListener("change", draw);
    draw();
    return draw;
  }

  // A homeowner signs with a finger; what is drawn becomes the picture of the field below.

  function signing(box) {
    const canvas = box.querySelector("canvas");
    const pen = canvas.getContext("2d");
    const field = form.elements.signature;
    const clear = () => {
      pen.fillStyle = "#fff";
      pen.fillRect(0, 0, canvas.width, canvas.height);
    };
    const at = (event) => {
      const place = canvas.getBoundingClientRect();
      return [event.clientX - place.left, event.clientY - place.top];
    };
    canvas.addEventListener("pointerdown", (event) => {
      canvas.setPointerCapture(event.pointerId);
      pen.lineWidth = 2;
      pen.beginPath();
      pen.moveTo(...at(event));
    });
    canvas.addEventListener("pointermove", (event) => {
      if (!event.buttons) return;
      pen.lineTo(...at(event));
      pen.stroke();
    });
    canvas.addEventListener("pointerup", () => canvas.toBlob((blob) => {
      const files = new DataTransfer();
      files.items.add(new File([blob], "signature.png", { type: "image/png" }));
      field.files = files.files;
    }));
    box.querySelector("button").addEventListener("click", () => { clear(); field.value = ""; });
    clear();
    box.hidden = false;
    return clear;
  }

  const drawn = [
    ...[...form.querySelectorAll(".log-rows")].map(rowsOf),
    ...[...form.querySelectorAll(".log-reason")].map(reasonOf),
    ...[...form.querySelectorAll(".log-sign")].map(signing),
  ];
  form.addEventListener("change", tell);
  form.addEventListener("reset", () => setTimeout(() => {
    setPhone();
    drawn.forEach((draw) => draw());
    document.getElementById("as-planned-said").textContent = "";
    tell();
  }));
  setPhone();
  tell();
})();
