// What waits on a phone lies sealed to its person. A pair of keys is made here; what is entered is
// sealed under its public half, also without signal. The private half lies here wrapped under a key
// that the server gives to this person alone, and that a tab forgets when they sign out. Where a
// browser can't seal (an address that is not a secure one), what is entered waits as it is.
"use strict";

window.rowbookSeal = (person, url) => {
  const PAIRS = "pairs";
  const HELD = "rowbook-seal";
  const CURVE = { name: "ECDH", namedCurve: "P-256" };
  const PATIENCE_MS = 8000;
  const subtle = window.crypto?.subtle;
  let trouble = "no signal";
  let asking = null;

  function open() {
    return new Promise((done, failed) => {
      const request = indexedDB.open("rowbook-seals", 1);
      request.onupgradeneeded = () => request.result.createObjectStore(PAIRS, { keyPath: "id" });
      request.onsuccess = () => done(request.result);
      request.onerror = () => failed(request.error);
    });
  }

  async function inStore(mode, work) {
    const base = await open();
    try {
      return await new Promise((done, failed) => {
        const step = base.transaction(PAIRS, mode);
        const request = work(step.objectStore(PAIRS));
        step.oncomplete = () => done(request.result);
        step.onerror = step.onabort = () => failed(step.error);
      });
    } finally {
      base.close();
    }
  }

  async function pairs() {
    const all = await inStore("readonly", (store) => store.getAll());
    return all.filter((pair) => pair.person === person).sort((a, b) => b.at - a.at);
  }

  // The key of the person: held by this tab, or given by the server to whom is signed in.

  function held() {
    try {
      const kept = JSON.parse(sessionStorage.getItem(HELD) ?? "{}");
      return kept.person === person ? kept.key : "";
    } catch (noStore) {
      return "";
    }
  }

  async function given() {
    const hand = new AbortController();
    const timer = setTimeout(() => hand.abort(), PATIENCE_MS);
    try {
      const answer = await fetch(url, { cache: "no-store", redirect: "manual", signal: hand.signal });
      trouble = answer.type === "opaqueredirect" ? "signed out" : "no signal";
      if (!answer.ok) return "";
      const [whose, key] = (await answer.text()).split(" ");
      if (whose !== person) { // a page that was kept, of somebody who is signed in no longer
        trouble = "signed out";
        return "";
      }
      sessionStorage.setItem(HELD, JSON.stringify({ person, key }));
      return key;
    } catch (noSignal) {
      trouble = "no signal";
      return "";
    } finally {
      clearTimeout(timer);
    }
  }

  async function wrapping() {
    asking ??= given().finally(() => { asking = null; });
    const text = held() || (await asking);
    if (!text) return null;
    const bytes = Uint8Array.from(atob(text.replaceAll("-", "+").replaceAll("_", "/")), (one) => one.charCodeAt(0));
    return subtle.importKey("raw", bytes, "AES-GCM", false, ["wrapKey", "unwrapKey"]);
  }

  const fresh = () => crypto.getRandomValues(new Uint8Array(12));

  async function unwrapped(pair, under) {
    try {
      const how = { name: "AES-GCM", iv: pair.iv };
      return await subtle.unwrapKey("pkcs8", pair.wrapped, under, how, CURVE, false, ["deriveKey"]);
    } catch (otherKey) {
      return null;
    }
  }

  async function makePair(under) {
    const made = await subtle.generateKey(CURVE, true, ["deriveKey"]);
    const iv = fresh();
    const wrapped = await subtle.wrapKey("pkcs8", made.privateKey, under, { name: "AES-GCM", iv });
    const open = await subtle.exportKey("raw", made.publicKey);
    const pair = { id: crypto.randomUUID(), person, at: Date.now(), open, iv, wrapped };
    await inStore("readwrite", (store) => store.put(pair));
  }

  // A pair is there before the signal goes: made on the first page of a day that is opened with it.
  async function ready() {
    const under = subtle ? await wrapping() : null;
    if (!under) return;
    const [newest] = await pairs();
    if (!newest || !(await unwrapped(newest, under))) await makePair(under);
  }

  const between = (theirs, mine, may) =>
    subtle.deriveKey({ name: "ECDH", public: theirs }, mine, { name: "AES-GCM", length: 256 }, false, [may]);
  const readable = (raw) => subtle.importKey("raw", raw, CURVE, false, []);

  // An entry as one run of bytes: what is text first, then the photographs as they are.

  async function packed(entry) {
    const blobs = [];
    const text = JSON.stringify(entry, (_, value) => {
      if (!(value instanceof Blob)) return value;
      blobs.push(value);
      return { blob: blobs.length, size: value.size, type: value.type, name: value.name ?? "" };
    });
    const head = new TextEncoder().encode(text);
    return new Blob([new Uint32Array([head.length]), head, ...blobs]).arrayBuffer();
  }

  function unpacked(bytes) {
    const [length] = new Uint32Array(bytes.slice(0, 4));
    let place = 4 + length;
    return JSON.parse(new TextDecoder().decode(bytes.slice(4, place)), (_, value) => {
      if (!value || typeof value !== "object" || !value.blob) return value;
      const content = bytes.slice(place, place + value.size);
      place += value.size;
      return new File([content], value.name, { type: value.type });
    });
  }

  async function sealed(entry) {
    if (!subtle || entry.shut || entry.lost) return entry;
    try {
      const [pair] = await pairs();
      if (!pair) return entry;
      const once = await subtle.generateKey(CURVE, true, ["deriveKey"]);
      const key = await between(await readable(pair.open), once.privateKey, "encrypt");
      const iv = fresh();
      const bytes = await subtle.encrypt({ name: "AES-GCM", iv }, key, await packed(entry));
      const onceOpen = await subtle.exportKey("raw", once.publicKey);
      return {
        key: entry.key, person: entry.person, at: entry.at, sent: entry.sent ?? null,
        sealed: { pair: pair.id, open: onceOpen, iv, bytes },
      };
    } catch (cannot) {
      console.info("seal:", cannot.message);
      return entry; // nothing is lost for want of a seal
    }
  }

  // Sealed as it lies where its person is not known to the server just now: `shut`; `lost` where the
  // pair, or the key that wraps it, is gone.
  async function opened(kept) {
    if (!kept.sealed) return kept;
    const under = subtle ? await wrapping() : null;
    if (!under) return { ...kept, shut: true };
    const pair = (await pairs()).find((one) => one.id === kept.sealed.pair);
    const mine = pair && (await unwrapped(pair, under));
    if (!mine) return { ...kept, lost: true };
    try {
      const key = await between(await readable(kept.sealed.open), mine, "decrypt");
      const bytes = await subtle.decrypt({ name: "AES-GCM", iv: kept.sealed.iv }, key, kept.sealed.bytes);
      return { ...unpacked(bytes), sent: kept.sent };
    } catch (spoiled) {
      return { ...kept, lost: true };
    }
  }

  return { ready, sealed, opened, why: async () => trouble };
};
