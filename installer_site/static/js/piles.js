// Counting piles with a thumb: a plus and a minus beside each number, and the sum of each width.
// Without this script the form is an ordinary one of number fields.
"use strict";

(() => {
  const form = document.querySelector("[data-piles]");
  if (!form) return;

  const counted = (input) => Math.max(0, Number.parseInt(input.value, 10) || 0);

  function addUp(group) {
    const inputs = [...group.querySelectorAll("input")];
    const line = group.querySelector("[data-pile-sum]");
    line.hidden = inputs.length < 2;
    line.querySelector("output").textContent = inputs.reduce((sum, one) => sum + counted(one), 0);
  }

  form.addEventListener("click", (event) => {
    const button = event.target.closest("button[data-by]");
    if (!button) return;
    const input = button.closest("[data-pile]").querySelector("input");
    input.value = Math.max(0, counted(input) + Number(button.dataset.by));
    addUp(button.closest("[data-pile-group]"));
  });
  form.addEventListener("input", (event) => {
    const group = event.target.closest("[data-pile-group]");
    if (group) addUp(group);
  });

  form.querySelectorAll("button[data-by]").forEach((button) => (button.hidden = false));
  form.querySelectorAll("[data-pile-group]").forEach(addUp);
})();
