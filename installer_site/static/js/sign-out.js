// What a phone keeps of somebody's pages goes when they sign out, from whatever page, and when
// somebody else signs in. Entries that are not sent lie elsewhere, each for its person, and stay.
"use strict";

(() => {
  const KEPT = "rowbook-log";
  const LAST = "rowbook-person";
  const PATIENCE_MS = 3000;
  const person = document.currentScript.dataset.person;
  const SEAL = "rowbook-seal";
  const drop = async () => {
    if (window.caches) await caches.delete(KEPT);
    sessionStorage.removeItem(SEAL); // what waits stays on the phone, and nobody opens it
  };

  async function dropOfAnother() {
    try {
      if (localStorage.getItem(LAST) === person) return;
      await drop();
      localStorage.setItem(LAST, person);
    } catch (noStore) {
      console.info("kept pages:", noStore.message);
    }
  }

  // Pages are kept only once those of another person are gone.
  window.rowbookPagesOfAnotherGone = dropOfAnother();

  for (const out of document.querySelectorAll("form.head-person")) {
    out.addEventListener("submit", async (event) => {
      event.preventDefault();
      const patience = new Promise((done) => { setTimeout(done, PATIENCE_MS); });
      await Promise.race([drop().catch(() => {}), patience]);
      out.submit();
    });
  }
})();
