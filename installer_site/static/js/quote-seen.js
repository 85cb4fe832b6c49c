// Tells the company that a person has the quote in sight: once, after it was visible for 5 seconds.
// Programs that only open links of mails never get that far.
(() => {
  const form = document.getElementById("seen");
  if (!form) return;
  const STEP_MS = 250;
  const ENOUGH_MS = 5000;
  let visible = 0;
  const timer = setInterval(() => {
    if (document.visibilityState !== "visible") return;
    visible += STEP_MS;
    if (visible < ENOUGH_MS) return;
    clearInterval(timer);
    fetch(form.action, { method: "POST", body: new FormData(form) });
  }, STEP_MS);
})();
