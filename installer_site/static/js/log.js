// The log without signal: what is entered waits on the phone until the server has taken it.
// Without this script the form is an ordinary one. An entry is removed only after the server said
// that it was taken down, or after the person dropped it.
"use strict";

(() => {
  const STORE = "entries";
  const PATIENCE_MS = 20000;
  const CHECK_MS = 3600e3;
  const KEPT_MS = 7 * 24 * CHECK_MS;
  const box = document.getElementById("log-waiting");
  if (!box || !window.indexedDB || !window.fetch) return;
  const person = box.dataset.person;
  const seal = window.rowbookSeal(person, box.dataset.seal);
  const form = document.getElementById("log-form");
  let sending = false;
  let sendAgain = false; // signal came back while something was under way

  // The store

  function open() {
    return new Promise((done, failed) => {
      const request = indexedDB.open("rowbook-log", 1);
      request.onupgradeneeded = () => request.result.createObjectStore(STORE, { keyPath: "key" });
      request.onsuccess = () => done(request.result);
      request.onerror = () => failed(request.error);
    });
  }

  async function inStore(mode, work) {
    const base = await open();
    try {
      return await new Promise((done, failed) => {
        const step = base.transaction(STORE, mode);
        const request = work(step.objectStore(STORE));
        step.oncomplete = () => done(request.result);
        step.onerror = step.onabort = () => failed(step.error);
      });
    } finally {
      base.close();
    }
  }

  // What was typed lies sealed (log-seal.js), but where the phone can't seal: there nothing is lost.
  async function keep(entry) {
    const sealed = await seal.sealed(entry);
    await inStore("readwrite", (store) => store.put(sealed));
  }
  const drop = (key) => inStore("readwrite", (store) => store.delete(key));
  async function waiting() {
    const all = await ours((entry) => !entry.sent);
    return all.sort((a, b) => a.at - b.at);
  }

  async function ours(which) {
    const all = await inStore("readonly", (store) => store.getAll());
    return Promise.all(all.filter((entry) => entry.person === person && which(entry)).map(seal.opened));
  }

  // What waited from before it could be sealed.
  async function sealOlder() {
    const all = await inStore("readonly", (store) => store.getAll());
    for (const entry of all.filter((one) => one.person === person && !one.sealed)) {
      const sealed = await seal.sealed(entry);
      await inStore("readwrite", (store) => {
        const there = store.get(entry.key); // it may have been sent or dropped meanwhile
        there.onsuccess = () => {
          if (there.result && !there.result.sealed && !there.result.sent === !entry.sent) store.put(sealed);
        };
        return there;
      });
    }
  }

  // What was taken stays for a week: a server that was put back to an earlier day is sent it again.
  async function putAside(entry, known) {
    if (known) await keep({ ...entry, sent: { known, at: Date.now() } });
    else await drop(entry.key);
  }

  async function sentLately() {
    const all = (await inStore("readonly", (store) => store.getAll())).filter((entry) => entry.sent);
    const old = (entry) => Date.now() - entry.sent.at > KEPT_MS;
    for (const entry of all.filter(old)) await drop(entry.key);
    return (await ours((entry) => entry.sent && !old(entry))).filter((entry) => !entry.shut && !entry.lost);
  }

  // Sending

  async function withPatience(url, options) {
    const hand = new AbortController();
    const timer = setTimeout(() => hand.abort(), PATIENCE_MS);
    try {
      return await fetch(url, { ...options, cache: "no-store", signal: hand.signal });
    } finally {
      clearTimeout(timer);
    }
  }

  // The token of a page that was kept for days is stale; it is asked for anew before sending. The way
  // to the sign-in page is not followed: its answer would undo the mark of a sign-in form that is open.
  async function freshToken(url) {
    const answer = await withPatience(url, { redirect: "manual" });
    if (answer.type === "opaqueredirect") throw new Error("signed out");
    if (answer.status === 404) return "";
    if (!answer.ok) throw new Error("no signal");
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    return page.querySelector("#log-form [name=csrfmiddlewaretoken]")?.value ?? "";
  }

  // Returns { known } once it is taken, "signed out", "no signal", or the server's reasons as { reasons }.
  async function send(entry, when) {
    try {
      const token = await freshToken(entry.url);
      if (!token) return { reasons: "This day is no longer planned, or no longer yours." };
      const body = new FormData();
      for (const [name, value] of entry.fields) {
        if (value instanceof Blob) body.append(name, value, value.name);
        else body.append(name, value);
      }
      body.set("csrfmiddlewaretoken", token);
      const answer = await withPatience(entry.url, {
        method: "POST", body, headers: { "X-Rowbook-Log": when }, redirect: "manual",
      });
      if (answer.status === 201) return { known: answer.headers.get("X-Rowbook-Known") ?? "" };
      if (answer.type === "opaqueredirect") return "signed out";
      if (answer.status === 422) return { reasons: await answer.text() };
      return "no signal";
    } catch (trouble) {
      return trouble.message === "signed out" ? "signed out" : "no signal";
    }
  }

  async function sendWaiting() {
    if (sending) {
      sendAgain = true;
      return;
    }
    sending = true;
    let sent = 0;
    let why = "";
    try {
      for (const entry of await waiting()) {
        if (entry.reasons || entry.lost) continue;
        if (entry.shut) {
          why = await seal.why();
          break;
        }
        const answer = await send(entry, "later");
        if (answer.known !== undefined) {
          await putAside(entry, answer.known);
          sent += 1;
        } else if (answer.reasons) {
          await keep({ ...entry, reasons: answer.reasons });
        } else {
          why = answer;
          break;
        }
      }
    } finally {
      sending = false;
    }
    await show({ sent, why });
    await sendIfDue();
  }

  // Asks, at most once an hour, whether the server still has what it took.
  async function sendWhatIsGone() {
    const due = (await sentLately()).filter((entry) => Date.now() - (entry.sent.checked ?? entry.sent.at) > CHECK_MS);
    let gone = 0;
    for (const url of new Set(due.map((entry) => entry.url))) {
      const answer = await withPatience(url, { redirect: "manual" });
      if (!answer.ok) continue;
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      const known = page.querySelector("#log-form")?.dataset.known?.split(" ");
      for (const entry of due.filter((one) => known && one.url === url)) {
        const there = known.includes(entry.sent.known);
        gone += there ? 0 : 1;
        await keep({ ...entry, sent: there ? { ...entry.sent, checked: Date.now() } : null });
      }
    }
    if (gone) await sendWaiting();
  }

  async function sendIfDue() {
    if (!sendAgain) return;
    sendAgain = false;
    await sendWaiting();
  }

  // Telling

  const entries = (count) => (count === 1 ? "1 entry" : `${count} entries`);

  async function show({ sent = 0, why = "" } = {}) {
    const all = await waiting();
    const refused = all.filter((entry) => entry.reasons);
    const lost = all.filter((entry) => entry.lost);
    const open = all.length - refused.length - lost.length;
    const sentences = [];
    if (sent) sentences.push(`${entries(sent)} sent.`);
    if (open && why === "signed out") sentences.push(`${entries(open)} kept on this phone: sign in to send.`);
    else if (open) sentences.push(`${entries(open)} ${open === 1 ? "waits" : "wait"} for signal.`);
    if (lost.length) sentences.push(`${entries(lost.length)} sealed under a key that is no longer in the book.`);
    if (refused.length) sentences.push(`${entries(refused.length)} not accepted.`);
    document.getElementById("log-waiting-count").textContent = sentences.join(" ");
    document.getElementById("log-waiting-list").replaceChildren(...all.map(line));
    box.hidden = sentences.length === 0;
  }

  function line(entry) {
    const item = document.createElement("li");
    if (entry.shut) {
      item.append(`Entered on ${new Date(entry.at).toLocaleString()}: sealed until you are signed in with signal.`);
      return item;
    }
    if (entry.lost) {
      item.append(`Entered on ${new Date(entry.at).toLocaleString()}. `, dropButton(entry));
      return item;
    }
    const typed = entry.fields
      .filter(([name, value]) => value && !(value instanceof Blob && !value.size) && entry.labels[name])
      .map(([name, value]) => `${entry.labels[name]}: ${value instanceof Blob ? value.name : value}`);
    item.append(`${entry.day}. ${typed.join("; ")}.`);
    if (entry.reasons) item.append(` Not accepted: ${entry.reasons} `);
    item.append(" ", dropButton(entry));
    return item;
  }

  function button(words, act) {
    const made = document.createElement("button");
    made.type = "button";
    made.textContent = words;
    made.addEventListener("click", act);
    return made;
  }

  // What was never sent is nowhere else, so it goes only after a second tap that counts it.
  function dropButton(entry) {
    const once = button(entry.reasons ? "Drop this entry" : "Undo entry", async () => {
      const count = (await waiting()).length;
      const sure = button(`Delete 1 of ${entries(count)} for good`, async () => {
        if (sending) return; // it may be with the server already
        await drop(entry.key);
        await show();
      });
      once.replaceWith("It is on this phone alone. ", sure, " ", button("Keep it", () => show()));
      sure.focus();
    });
    return once;
  }

  // The form

  function entryOf(sent) {
    const labels = {};
    if (sent.elements.phone_at) sent.elements.phone_at.value = new Date().toISOString();
    for (const control of sent.elements) {
      const said = control.getAttribute("aria-label");
      if (control.name && said) labels[control.name] = said;
      else if (control.name && control.labels?.length) labels[control.name] = control.labels[0].firstChild.textContent.trim();
    }
    return {
      key: `${sent.elements.key.value}-${Date.now()}`,
      at: Date.now(),
      person,
      url: new URL(sent.action).pathname,
      day: sent.dataset.day,
      labels,
      fields: [...new FormData(sent)].filter(([name]) => name !== "csrfmiddlewaretoken"),
    };
  }

  function freshKey() {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  }

  async function onSubmit(event) {
    event.preventDefault();
    if (sending) return;
    sending = true;
    const button = form.querySelector("button.primary");
    button.disabled = true;
    try {
      const entry = entryOf(form);
      await keep(entry);
      if (await window.rowbookMadeSmaller(entry)) await keep(entry);
      const answer = await send(entry, "now");
      if (answer.known !== undefined) {
        await putAside(entry, answer.known);
        location.assign(form.dataset.page);
        return;
      }
      if (answer.reasons) {
        await drop(entry.key);
        form.submit();
        return;
      }
      form.reset();
      form.elements.key.value = freshKey();
      await show({ why: answer });
      box.scrollIntoView({ block: "nearest" });
    } finally {
      sending = false;
      button.disabled = false;
    }
    await sendIfDue();
  }

  // Pages that open without signal: only where the browser trusts the address.

  async function keepPages() {
    if (!navigator.serviceWorker) {
      document.getElementById("log-plain").hidden = false;
      return;
    }
    await navigator.serviceWorker.register(box.dataset.worker, { scope: "/days" });
    await navigator.serviceWorker.ready;
    const parts = [...document.querySelectorAll("link[rel=stylesheet], link[rel=icon], script[src]")];
    const pages = location.pathname === "/days/today" ? /^\/days\/\d+(\/log)?$/ : /^\/days\/\d+\/log$/;
    const log = [...document.querySelectorAll("main a[href]")].filter((a) => pages.test(a.pathname));
    const here = /^\/days(\/today|\/\d+(\/log)?)?$/.test(location.pathname) && !location.search ? [location.href] : [];
    const wanted = [...here, ...parts.map((part) => part.href || part.src), ...log.map((a) => a.href)];
    await window.rowbookPagesOfAnotherGone;
    const kept = await caches.open("rowbook-log");
    for (const url of new Set(wanted)) {
      const answer = await fetch(url, { redirect: "manual" });
      if (answer.ok) await kept.put(url, answer);
    }
    box.dataset.kept = "yes";
  }

  // A page that was kept is opened later too; the way in shows on its day alone.

  function hideWhatIsOver() {
    for (const one of document.querySelectorAll("[data-until]")) {
      if (Date.now() > Date.parse(one.dataset.until)) one.textContent = "The way in shows on the day itself.";
    }
  }

  hideWhatIsOver();
  form?.addEventListener("submit", onSubmit);
  window.addEventListener("online", sendWaiting);
  const quietly = (trouble) => console.info("log:", trouble.message);
  seal.ready().then(sealOlder).catch(quietly).then(sendWaiting).then(sendWhatIsGone).catch(quietly).then(() => keepPages().catch(quietly));
})();
