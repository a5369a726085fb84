// The officers' sheet: keeps what is typed on the phone first, sends it when it can, and shows what the office has.
// Without this script every form still works by itself; where nothing can be kept on the phone, it leaves them alone.
"use strict";
(() => {
  const { path: PATH, place: PLACE, office: OFFICE, zone: ZONE, speed: SPEED, worker: WORKER } = document.body.dataset;
  const STORE = "pollrise-sheet-1"; // the worker's, for the page itself
  const ANSWER_WITHIN = 10000, LOOK_EVERY = 10000, STALE_AFTER = 30000, MOST_AT_ONCE = 25, WAIT_TO_SHOW = 2000;
  const $ = (id) => document.getElementById(id);
  const sections = [...document.querySelectorAll("main > section")];
  const tasks = sections.filter((section) => "task" in section.dataset);
  const wait = (ms) => new Promise((done) => setTimeout(done, ms));

  let usable = false; // whether this phone can keep anything
  let waiting = []; // what is typed and not yet at the office, oldest first; and what it refused
  let state = { tasks: {}, office: null, counts: null, closing_from: document.body.dataset.closing };
  let tag = "", contact = 0, basis = { now: SPEED ? Date.parse(document.body.dataset.now) : Date.now(), at: Date.now() };
  let signedOut = "", failures = 0, timer = 0, sending = null, wanted = false, oneByOne = false;
  const seen = new Set(); // stops that were shown

  // ---- what is kept on the phone: IndexedDB, written through to the disk before anything is said to be kept

  let opened = null;
  function database() {
    opened ??= new Promise((done, fail) => {
      const asked = indexedDB.open("pollrise-sheet", 1);
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
    waiting = all.filter((each) => each.place === PLACE);
    return waiting.filter((each) => !each.why);
  }

  // ---- time: the phone's own with its offset; under a clock that was set, the office's

  const officeNow = () => new Date(basis.now + (Date.now() - basis.at) * (SPEED ? Number(SPEED) : 1));

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
    contact = Date.now();
    signedOut = "";
  }

  // ---- sending: in order, each under the key it was given when it was typed, until the office says it has it

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
      ? navigator.locks.request("pollrise-sheet", { ifAvailable: true }, (lock) => (lock ? work() : later()))
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
      const answer = await ask(`${PATH}/reports`, {
        method: "POST",
        headers: { "content-type": "application/json" },
        body: JSON.stringify({ forms: batch.map((each) => each.form) }),
      });
      if (answer.status === 200) {
        heard(answer);
        await received(batch, await answer.json());
        failures = 0;
      } else if (answer.status === 401 || answer.status === 403) {
        signedOut = answer.status === 401 ? "its key was ended" : "its key is another place's";
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
    await kept("readwrite", (queue, notes) => {
      for (const each of batch) {
        const receipt = said.get(each.form.key);
        if (!receipt) continue;
        if (receipt.outcome === "kept" || receipt.outcome === "already-held") queue.delete(each.n);
        else queue.put({ ...each, why: receipt.says || receipt.outcome });
      }
      notes.put({ state: answer.state, basis }, `state ${PLACE}`);
    });
    state = answer.state;
    tag = "";
    await readWaiting();
  }

  async function refused(each, why) {
    oneByOne = false;
    await kept("readwrite", (queue) => queue.put({ ...each, why }));
  }

  // ---- looking: what the office has, from this phone and the other, and who is coming

  async function look() {
    try {
      const answer = await ask(`${PATH}/state`, { headers: tag ? { "if-none-match": tag } : {} });
      if (answer.status === 401 || answer.status === 403) signedOut = "its key was ended";
      if (answer.status === 200) {
        state = await answer.json();
        tag = answer.headers.get("etag") || "";
      }
      if (answer.status === 200 || answer.status === 304) {
        heard(answer);
        if (usable && answer.status === 200) await kept("readwrite", (queue, notes) => notes.put({ state, basis }, `state ${PLACE}`));
        if (usable && (await readWaiting()).length) kick();
      }
    } catch {
      // no signal: what is shown says how old it is
    }
    render();
  }

  async function keepLooking() {
    for (;;) {
      if (!document.hidden) await look();
      await wait(LOOK_EVERY);
    }
  }

  // ---- a form is filled in

  function filled(form, button) {
    const data = new FormData(form);
    if (button && button.name) data.set(button.name, button.value);
    const said = Object.fromEntries([...data].filter(([, value]) => value !== ""));
    const key = [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0"));
    return { ...said, key: `phone-${key.join("")}`, happened_at: stamp() };
  }

  async function submitted(event) {
    const form = event.target;
    if (!usable) return; // the browser sends it as it is
    event.preventDefault();
    if (form.dataset.busy) return;
    form.dataset.busy = "yes";
    const said = filled(form, event.submitter || pressed), section = form.closest("section");
    try {
      await kept("readwrite", (queue) => queue.add({ place: PLACE, form: said, says: inWords(form, section) }));
    } catch {
      delete form.dataset.busy;
      form.submit();
      return;
    }
    const stops = section ? ownStops(form) : [];
    done(form, section);
    await readWaiting();
    const button = form.querySelector(".main");
    button?.setAttribute("aria-disabled", "true");
    failures = 0;
    await Promise.race([kick(), wait(WAIT_TO_SHOW)]);
    button?.removeAttribute("aria-disabled");
    delete form.dataset.busy;
    moveOn(section, stops, said.exception);
    navigator.storage?.persist?.();
  }

  function inWords(form, section) {
    const about = section?.querySelector("h2")?.textContent || form.querySelector("button").textContent;
    const where = section?.querySelector(".where")?.textContent || "";
    return [about, where].filter(Boolean).join(", ");
  }

  function done(form, section) {
    form.reset();
    if (form.elements.corrects && section) form.elements.corrects.value = "";
    section?.classList.remove("again");
    keepDrafts();
  }

  // what needs no secret to be seen is said at once, with signal or without; the office's own answer replaces it
  function ownStops(form) {
    return [...form.querySelectorAll(".stop[data-field]")].filter((stop) => {
      const text = (form.elements[stop.dataset.field]?.value || "").replace(/[ ,]/g, "");
      const { least, exactly } = stop.dataset;
      if (!text || (exactly !== undefined ? Number(text) === Number(exactly) : Number(text) >= Number(least))) return false;
      stop.querySelector(".found").textContent = text;
      return true;
    });
  }

  function moveOn(section, stops, exception) {
    if (!section) $("office").focus();
    render();
    if (!section) return;
    if ("task" in section.dataset) {
      const known = state.tasks[section.id];
      if (!known) section.querySelector(".local").replaceChildren(...stops.map(copied));
      if (known?.stop || (!known && stops.length)) show(section.id);
      else show(current());
    } else if (section.id === "help") {
      show("sheet");
      $("office").querySelector(`[data-exception="${exception}"]`)?.setAttribute("open", "");
    } else show("sheet");
  }

  function copied(stop) {
    const copy = stop.cloneNode(true);
    copy.hidden = false;
    return copy;
  }

  // ---- half typed entries outlive a reload too

  const changed = (field) =>
    field.type === "radio" ? field.checked !== field.defaultChecked : field.type !== "hidden" && field.value !== (field.defaultValue ?? "");

  function typed(form) {
    return [...form.elements].filter((field) => field.name && !["button", "submit", "select-one"].includes(field.type) && changed(field));
  }

  let drafting = 0;
  function keepDrafts() {
    clearTimeout(drafting);
    drafting = setTimeout(async () => {
      const drafts = {};
      for (const section of sections)
        for (const form of section.querySelectorAll("form")) {
          const fields = typed(form).map((field) => [field.name, field.value]);
          if (fields.length) drafts[section.id] = fields;
        }
      await kept("readwrite", (queue, notes) => notes.put(drafts, `drafts ${PLACE}`)).catch(() => undefined);
    }, 200);
  }

  function putDraftsBack(drafts) {
    for (const [id, fields] of Object.entries(drafts || {})) {
      const form = $(id)?.querySelector("form");
      for (const [name, value] of form ? fields : []) {
        const field = form.elements[name];
        if (field) field.value = value;
      }
    }
  }

  // ---- what is shown

  const on = (section) => waiting.filter((each) => !each.why && each.form.anchor === section.id);
  const isDone = (section) => section.id in state.tasks || on(section).length > 0;

  function current() {
    const opening = tasks.filter((section) => !("closingStep" in section.dataset));
    const closing = tasks.filter((section) => "closingStep" in section.dataset);
    const first = opening.find((section) => !isDone(section));
    if (first) return first.id;
    if (officeNow() < new Date(state.closing_from)) return "count";
    return (closing.find((section) => !isDone(section)) || $("count")).id;
  }

  const shown = () => sections.find((section) => `#${section.id}` === location.hash) || sections.find((section) => section.classList.contains("now"));

  function show(id) {
    const section = $(id);
    if (location.hash !== `#${id}`) location.hash = id;
    aside();
    const target = section.tagName === "MAIN" ? shown() : section;
    // the head of the page stays in sight where there is room for it
    if ("task" in target.dataset && target.offsetTop < innerHeight / 3) scrollTo(0, 0);
    else if (id !== "sheet") target.scrollIntoView();
    else scrollTo(0, 0);
    target.focus({ preventScroll: true });
  }

  // for browsers that do not know :has()
  const aside = () => $("sheet").classList.toggle("aside", sections.some((section) => `#${section.id}` === location.hash));

  const putIn = new Map();
  function put(element, html) {
    const active = document.activeElement;
    if (html === null || putIn.get(element) === html || (element !== active && element.contains(active))) return;
    putIn.set(element, html);
    const open = [...element.querySelectorAll("details[open]")].map((each) => each.dataset.case);
    element.innerHTML = html; // made by the office's own templates, which escape everything that was typed
    for (const each of element.querySelectorAll("details")) each.open ||= open.includes(each.dataset.case);
  }

  function say(element, lines) {
    const text = JSON.stringify(lines.map(([kind, says]) => [kind, says]));
    if (putIn.get(element) === text) return;
    putIn.set(element, text);
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

  function render() {
    for (const section of tasks) renderTask(section);
    put($("office"), state.office);
    put($("counts"), state.counts);
    renderNow();
    renderStrip();
    renderAlarm();
  }

  function renderTask(section) {
    const known = state.tasks[section.id], mine = on(section), form = section.querySelector("form");
    const half = known && !mine.length && !section.classList.contains("done") && typed(form).length > 0;
    if (half) {
      // the other phone was faster; what is half typed here stays, and would put its report right
      section.classList.add("again");
      form.elements.corrects.value = known.key;
    }
    section.classList.toggle("done", Boolean(known) || mine.length > 0);
    put(section.querySelector(".reports"), known ? known.html : "");
    if (known) section.querySelector(".local").replaceChildren();
    const soFar = section.querySelector(".sofar");
    soFar.hidden = !mine.length;
    soFar.textContent = mine.length
      ? `Kept on this phone ${wall(new Date(mine[0].form.happened_at))}, not yet at the ${OFFICE}. ` +
        (section.querySelector("[name=seal_number], [name=protective_counter]") ? `The ${OFFICE} checks the number when it arrives.` : "")
      : "";
    const how = known?.stop ? "stopped" : mine.length ? "waiting" : known ? "done" : "";
    for (const mark of document.querySelectorAll(`[data-of="${section.id}"]`)) {
      mark.className = how;
      const words = mark.querySelector(".state");
      if (words) words.textContent = how ? inState(how) : words.dataset.due;
    }
  }

  const inState = (how) =>
    ({ stopped: `the ${OFFICE} has been told, look here`, waiting: `kept on this phone, not yet at the ${OFFICE}`, done: `at the ${OFFICE}` })[how];

  function renderNow() {
    const next = current(), old = sections.find((section) => section.classList.contains("now"));
    const busy = old && old.id !== next && !isDone(old) && typed(old.querySelector("form")).length > 0;
    if (!busy)
      for (const section of sections) section.classList.toggle("now", section.id === next);
    for (const mark of document.querySelectorAll(`.bar [data-of="${next}"]`)) mark.className ||= "now";
    const there = Object.keys(state.tasks).length, here = tasks.filter((section) => on(section).length).length;
    $("far").textContent =
      `${there} of ${tasks.length} steps are at the ${OFFICE}${here ? `, ${here} on this phone` : ""}.` +
      (contact ? ` As of ${wall(officeAt(contact), true)}.` : "");
    $("now").textContent = wall(officeNow());
    aside();
  }

  const officeAt = (moment) => new Date(basis.now + (moment - basis.at) * (SPEED ? Number(SPEED) : 1));

  function renderStrip() {
    const unsent = waiting.filter((each) => !each.why).length, lines = [];
    if (signedOut) lines.push(["lost", `This phone is signed out: ${signedOut}. What you type is kept here. Scan the card that is valid now.`]);
    if (unsent)
      lines.push(["waits", `Kept on this phone, not yet at the ${OFFICE}: ${unsent} ${unsent === 1 ? "report" : "reports"}. Sent when there is signal. Nothing is lost if this page is closed: open it again to send.`]);
    else if (contact && Date.now() - contact > STALE_AFTER)
      lines.push(["waits", `No contact with the ${OFFICE} since ${wall(officeAt(contact))}. What you type is kept here and sent later.`]);
    else if (contact && !signedOut) lines.push(["kept", `Everything you told is at the ${OFFICE}.`]);
    for (const each of waiting.filter((one) => one.why))
      lines.push(["lost", `The ${OFFICE} could not take “${each.says}”: ${each.why}. It is set aside there. `, () => seenButton(each)]);
    const minutes = Math.round((Date.now() - officeAt(Date.now()).getTime()) / 60000);
    if (!SPEED && Math.abs(minutes) >= 2)
      lines.push(["waits", `This phone's clock is ${Math.abs(minutes)} min ${minutes > 0 ? "ahead of" : "behind"} the ${OFFICE}'s.`]);
    say($("strip"), lines);
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

  function renderAlarm() {
    const here = shown(), lines = [];
    for (const section of tasks) {
      if (!state.tasks[section.id]?.stop) continue;
      if (here === section) seen.add(section.id);
      if (!seen.has(section.id)) lines.push(["", `Stop and look: ${inWords(section.querySelector("form"), section)}. `, () => wayTo(section)]);
    }
    say($("alarm"), lines);
  }

  function wayTo(section) {
    const way = document.createElement("a");
    way.href = `#${section.id}`;
    way.textContent = "Show it";
    return way;
  }

  // ---- taps

  let pressed = null; // for browsers that do not say which button sent a form

  function tapped(event) {
    pressed = event.target.closest("button");
    const way = event.target.closest("a");
    if (!way) return;
    const section = way.closest("section");
    if (way.matches(".task .again")) {
      event.preventDefault();
      const form = section.querySelector("form"), mine = on(section);
      form.elements.corrects.value = state.tasks[section.id]?.key || mine.at(-1)?.form.key || "";
      form.noValidate = true;
      section.classList.add("again");
      form.querySelector("input:not([type=hidden]), textarea, button").focus();
    } else if (way.matches(".trouble")) {
      event.preventDefault();
      $("about").value = section.querySelector("[name=device]").value;
      show("help");
    } else if (way.matches(".to-now")) {
      event.preventDefault();
      show("sheet");
    }
  }

  async function start() {
    for (const section of tasks) {
      const local = document.createElement("div");
      local.className = "local";
      section.querySelector(".sofar").after(local);
      const known = section.querySelector(".reports");
      if (section.dataset.key) state.tasks[section.id] = { key: section.dataset.key, stop: Boolean(known.querySelector(".stop:not(.over)")), html: known.innerHTML };
      putIn.set(known, known.innerHTML);
    }
    try {
      await readWaiting();
      const [drafts, old] = await Promise.all([
        kept("readonly", (queue, notes) => notes.get(`drafts ${PLACE}`)),
        kept("readonly", (queue, notes) => notes.get(`state ${PLACE}`)),
      ]);
      usable = true;
      // a page that the worker kept is older than what was heard since
      if (old && old.basis.now > Date.parse(document.body.dataset.now)) {
        state = old.state;
        if (SPEED) basis = old.basis;
      }
      putDraftsBack(drafts);
    } catch {
      // nothing can be kept here (a private window, a full phone): every form is sent by the browser itself
    }
    document.addEventListener("submit", submitted);
    document.addEventListener("click", tapped);
    document.addEventListener("input", keepDrafts);
    addEventListener("hashchange", () => (aside(), render()));
    for (const back of ["online", "pageshow"]) addEventListener(back, () => usable && kick());
    document.addEventListener("visibilitychange", () => document.hidden || look());
    document.documentElement.dataset.ready = "yes";
    render();
    setInterval(render, 5000);
    keepLooking();
    if (!isSecureContext || !navigator.serviceWorker) return;
    await navigator.serviceWorker.register(WORKER, { scope: "/at/" });
    await navigator.serviceWorker.ready;
    await (await caches.open(STORE)).add(PATH);
  }

  start().catch(() => undefined);
})();
