// What every page for a phone does: keep what is told on the phone first, send it when it can, ask how things stand, and
// say what has reached the office and what has not. What a page shows of it is the page's own script.
// Where nothing can be kept on the phone, forms are left to the browser, which posts them as they are.
"use strict";
function phone({ whose, sendTo, lookEvery, state, newer, render }) {
  const { kind: KIND, store: STORE, path: PATH, under: UNDER, worker: WORKER } = document.body.dataset;
  const { office: OFFICE, zone: ZONE, speed: SPEED, now: MADE } = document.body.dataset;
  const ANSWER_WITHIN = 10000, STALE_AFTER = Math.max(30000, 3 * lookEvery), MOST_AT_ONCE = 25;
  const wait = (ms) => new Promise((done) => setTimeout(done, ms));
  // `waiting` is what is told and not yet at the office, oldest first, and what it refused; `contact` when it last answered
  const own = { usable: false, waiting: [], state, contact: 0, signedOut: "" };
  let basis = { now: SPEED ? Date.parse(MADE) : Date.now(), at: Date.now() };
  let tag = "", failures = 0, timer = 0, sending = null, wanted = false, oneByOne = false;

  // ---- what is kept on the phone: IndexedDB, written through to the disk before anything is said to be kept

  let opened = null;
  function database() {
    opened ??= new Promise((done, fail) => {
      const asked = indexedDB.open(`pollrise-${KIND}`, 1);
      asked.onupgradeneeded = () => {
        asked.result.createObjectStore("waiting", { keyPath: "n", autoIncrement: true });
        asked.result.createObjectStore("kept");
      };
      asked.onsuccess = () => {
        asked.result.onclose = () => (opened = null);
        asked.result.onversionchange = () => asked.result.close();
        done(asked.result);
      };
      asked.onerror = asked.onblocked = () => fail(asked.error);
    });
    return opened;
  }

  async function kept(mode, work) {
    const held = await database();
    return new Promise((done, fail) => {
      const change = held.transaction(["waiting", "kept"], mode, { durability: "strict" });
      const asked = work(change.objectStore("waiting"), change.objectStore("kept"));
      change.oncomplete = () => done(asked && asked.result);
      change.onerror = change.onabort = () => fail(change.error);
    });
  }

  async function readWaiting() {
    const all = await kept("readonly", (queue) => queue.getAll());
    own.waiting = all.filter((each) => each.whose === whose);
    return own.waiting.filter((each) => !each.why);
  }

  async function keep(form, says) {
    await kept("readwrite", (queue) => queue.add({ whose, form, says }));
    await readWaiting();
  }

  const keepState = (notes) => notes.put({ state: own.state, basis }, `state ${whose}`);

  // ---- time: the phone's own with its offset; under a clock that was set, the office's

  const officeAt = (moment) => new Date(basis.now + (moment - basis.at) * (SPEED ? Number(SPEED) : 1));
  const officeNow = () => officeAt(Date.now());

  function stamp() {
    if (SPEED) return officeNow().toISOString();
    const now = new Date(), east = -now.getTimezoneOffset(), two = (n) => String(Math.floor(n)).padStart(2, "0");
    const wall = new Date(now.getTime() + east * 60000).toISOString().slice(0, -1);
    return `${wall}${east < 0 ? "-" : "+"}${two(Math.abs(east) / 60)}:${two(Math.abs(east) % 60)}`;
  }

  function wall(moment, seconds) {
    const shown = { timeZone: ZONE, hour: "2-digit", minute: "2-digit", hourCycle: "h23" };
    if (seconds) shown.second = "2-digit";
    return new Intl.DateTimeFormat("en-GB", shown).format(moment);
  }

  function heard(answer) {
    const said = Date.parse(answer.headers.get("office-now"));
    if (said) basis = { now: said, at: Date.now() };
    own.contact = Date.now();
    own.signedOut = "";
  }

  // ---- sending: in order, each under the key it was given when it was told, until the office says it has it

  function kick() {
    clearTimeout(timer);
    wanted = Boolean(sending);
    sending ??= locked(drain).catch(() => later()).finally(sent);
    return sending;
  }

  function sent() {
    sending = null;
    render();
    if (wanted) kick();
  }

  // two tabs would do no harm, the keys are the same; one at a time keeps the order
  const locked = (work) =>
    navigator.locks
      ? navigator.locks.request(`pollrise-${KIND}`, { ifAvailable: true }, (lock) => (lock ? work() : later()))
      : work();

  function later(seconds) {
    failures = Math.min(failures + 1, 6);
    const delay = seconds || Math.min(2 ** failures, 60) * (0.75 + Math.random() / 2);
    clearTimeout(timer);
    timer = setTimeout(kick, delay * 1000);
  }

  async function drain() {
    for (;;) {
      const batch = (await readWaiting()).slice(0, oneByOne ? 1 : MOST_AT_ONCE);
      render();
      if (!batch.length) return;
      const answer = await ask(`${PATH}/${sendTo}`, {
        method: "POST",
        headers: { "content-type": "application/json" },
        body: JSON.stringify({ forms: batch.map((each) => each.form) }),
      });
      if (answer.status === 200) {
        heard(answer);
        await received(batch, await answer.json());
        failures = 0;
      } else if (answer.status === 401 || answer.status === 403) {
        own.signedOut = answer.status === 401 ? "its key was ended" : "its key is another's";
        return later(60);
      } else if ([400, 413, 422].includes(answer.status)) {
        if (batch.length === 1) await refused(batch[0], (await answer.json()).detail);
        else oneByOne = true;
      } else return later(Number(answer.headers.get("retry-after")) || 0);
    }
  }

  async function ask(address, how) {
    const giveUp = new AbortController();
    const late = setTimeout(() => giveUp.abort(), ANSWER_WITHIN);
    try {
      return await fetch(address, { cache: "no-store", credentials: "same-origin", signal: giveUp.signal, ...how });
    } finally {
      clearTimeout(late);
    }
  }

  async function received(batch, answer) {
    const said = new Map(answer.receipts.map((receipt) => [receipt.key, receipt]));
    own.state = answer.state;
    tag = "";
    await kept("readwrite", (queue, notes) => {
      for (const each of batch) {
        const receipt = said.get(each.form.key);
        if (!receipt) continue;
        if (receipt.outcome === "kept" || receipt.outcome === "already-held") queue.delete(each.n);
        else queue.put({ ...each, why: receipt.says || receipt.outcome });
      }
      keepState(notes);
    });
    await readWaiting();
    newer?.();
  }

  async function refused(each, why) {
    oneByOne = false;
    await kept("readwrite", (queue) => queue.put({ ...each, why }));
  }

  // ---- looking: what the office has, and what it does

  async function look() {
    try {
      const answer = await ask(`${PATH}/state`, { headers: tag ? { "if-none-match": tag } : {} });
      if (answer.status === 401 || answer.status === 403) own.signedOut = "its key was ended";
      if (answer.status === 200) {
        own.state = await answer.json();
        tag = answer.headers.get("etag") || "";
        newer?.();
      }
      if (answer.status === 200 || answer.status === 304) {
        heard(answer);
        if (own.usable && answer.status === 200) await kept("readwrite", (queue, notes) => keepState(notes));
        if (own.usable && (await readWaiting()).length) kick();
      }
    } catch {
      // no signal: what is shown says how old it is
    }
    render();
  }

  async function keepLooking() {
    for (;;) {
      if (!document.hidden) await look();
      await wait(lookEvery);
    }
  }

  // ---- a form becomes what is kept and sent

  let pressed = null; // for browsers that do not say which button sent a form
  document.addEventListener("click", (event) => (pressed = event.target.closest("button")));

  function filled(form, button = pressed) {
    const data = new FormData(form);
    if (button && button.name) data.set(button.name, button.value);
    const said = Object.fromEntries([...data].filter(([, value]) => value !== ""));
    return { ...said, key: newKey(), happened_at: stamp() };
  }

  const newKey = () => `phone-${[...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0")).join("")}`;

  // a form that the browser is to post by itself: parts that were put in have no key yet
  const left = (form) => void (form.elements.key.value ||= newKey());

  function send() {
    failures = 0;
    navigator.storage?.persist?.();
    return kick();
  }

  // ---- what is shown

  const putIn = new Map();
  const same = (element, made) => putIn.get(element) === made || void putIn.set(element, made);

  // parts made by the office's own templates, which escape everything that was typed; what is being typed is not
  // disturbed, what was typed stays, and so does the focus where it has a name
  function put(element, html) {
    if (html === null || putIn.get(element) === html || beingUsed(element)) return;
    putIn.set(element, html);
    const focused = element.contains(document.activeElement) ? document.activeElement.id : "";
    const open = [...element.querySelectorAll("details[open]")].map((each) => each.dataset.case);
    const typed = [...element.querySelectorAll("textarea[id], input[id]")].map((each) => [each.id, each.value]);
    element.innerHTML = html;
    for (const each of element.querySelectorAll("details")) each.open ||= open.includes(each.dataset.case);
    for (const [id, value] of typed) if (value && element.querySelector(`#${CSS.escape(id)}`)) document.getElementById(id).value = value;
    if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
  }

  function beingUsed(element) {
    const active = document.activeElement;
    if (element === active || !element.contains(active)) return false;
    return !active.id || ["TEXTAREA", "INPUT", "SELECT"].includes(active.tagName);
  }

  const isIn = (element) => putIn.set(element, element.innerHTML);

  function say(element, lines) {
    if (same(element, JSON.stringify(lines.map(([kind, says]) => [kind, says])))) return;
    element.replaceChildren(
      ...lines.map(([kind, says, extra]) => {
        const line = document.createElement("p");
        line.className = kind;
        line.textContent = says;
        if (extra) line.append(extra());
        return line;
      }),
    );
  }

  // what waits, what is at the office, what it would not take
  function renderStrip(element) {
    const unsent = own.waiting.filter((each) => !each.why).length, lines = [];
    if (own.signedOut) lines.push(["lost", `This phone is signed out: ${own.signedOut}. What you tell is kept here. Scan the card that is valid now.`]);
    if (unsent)
      lines.push(["waits", `Kept on this phone, not yet at the ${OFFICE}: ${unsent} ${unsent === 1 ? "report" : "reports"}. Sent when there is signal. Nothing is lost if this page is closed: open it again to send.`]);
    else if (own.contact && Date.now() - own.contact > STALE_AFTER)
      lines.push(["waits", `No contact with the ${OFFICE} since ${wall(officeAt(own.contact))}. What you tell is kept here and sent later.`]);
    else if (own.contact && !own.signedOut) lines.push(["kept", `Everything you told is at the ${OFFICE}.`]);
    for (const each of own.waiting.filter((one) => one.why))
      lines.push(["lost", `The ${OFFICE} could not take “${each.says}”: ${each.why}. It is set aside there. `, () => seenButton(each)]);
    const minutes = Math.round((Date.now() - officeNow().getTime()) / 60000);
    if (!SPEED && Math.abs(minutes) >= 2)
      lines.push(["waits", `This phone's clock is ${Math.abs(minutes)} min ${minutes > 0 ? "ahead of" : "behind"} the ${OFFICE}'s.`]);
    say(element, lines);
  }

  function seenButton(each) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = "Seen";
    button.addEventListener("click", async () => {
      await kept("readwrite", (queue) => queue.delete(each.n));
      await readWaiting();
      render();
    });
    return button;
  }

  // ---- beginning

  // what was kept before; a page that the worker kept is older than what was heard since
  async function remember() {
    await readWaiting();
    const old = await kept("readonly", (queue, notes) => notes.get(`state ${whose}`));
    own.usable = true;
    if (!old || old.basis.now <= Date.parse(MADE)) return;
    own.state = old.state;
    if (SPEED) basis = old.basis;
  }

  async function begin() {
    for (const back of ["online", "pageshow"]) addEventListener(back, () => own.usable && kick());
    document.addEventListener("visibilitychange", () => document.hidden || look());
    document.documentElement.dataset.ready = "yes";
    render();
    setInterval(render, 5000);
    keepLooking();
    if (!isSecureContext || !navigator.serviceWorker) return;
    await navigator.serviceWorker.register(WORKER, { scope: UNDER });
    await navigator.serviceWorker.ready;
    await (await caches.open(STORE)).add(PATH);
  }

  return Object.assign(own, { kept, keep, send, filled, left, look, put, isIn, say, renderStrip, wall, officeNow, officeAt, wait, remember, begin });
}
