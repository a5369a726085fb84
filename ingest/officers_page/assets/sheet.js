// The officers' sheet: which step comes next, what differs, what is half typed. Keeping, sending and asking is phone.js's.
// Without script every form still works by itself; where nothing can be kept on the phone, it leaves them alone.
"use strict";
(() => {
  const { place: PLACE, office: OFFICE } = document.body.dataset;
  const LOOK_EVERY = 10000, WAIT_TO_SHOW = 2000;
  const $ = (id) => document.getElementById(id);
  const sections = [...document.querySelectorAll("main > section")];
  const tasks = sections.filter((section) => "task" in section.dataset);
  const seen = new Set(); // stops that were shown
  const own = phone({
    whose: PLACE,
    sendTo: "reports",
    lookEvery: LOOK_EVERY,
    state: { tasks: {}, office: null, counts: null, messages: null, closing_from: document.body.dataset.closing },
    render: () => render(),
  });
  const { kept, put, say, wall, officeNow, officeAt, wait } = own;

  // ---- each step's form is made from its templates, so that it need not be sent once for every device

  function fill(section) {
    const { task, device, position } = section.dataset, own = $(`of-${task}`);
    const made = $("of-any").content.cloneNode(true);
    made.querySelector(".own").replaceWith(own.content.cloneNode(true));
    if ("ownNote" in own.dataset) made.querySelector(".more").remove();
    for (const each of made.querySelectorAll("[id], [for]"))
      for (const name of ["id", "for"])
        if (each.hasAttribute(name)) each.setAttribute(name, section.id + each.getAttribute(name).slice(1));
    const form = made.querySelector("form");
    const said = { key: aKey(), anchor: section.id, step: task, device: device || "", seal_position: position || "" };
    for (const name in said) form.elements[name].value = said[name];
    section.querySelector(".bare").replaceWith(made);
  }

  const aKey = () => `phone-${[...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0")).join("")}`;

  // ---- a form is filled in

  async function submitted(event) {
    const form = event.target;
    if (!own.usable) return own.left(form); // the browser sends it as it is
    event.preventDefault();
    if (form.dataset.busy) return;
    form.dataset.busy = "yes";
    const said = own.filled(form, event.submitter || undefined), section = form.closest("section");
    try {
      await own.keep(said, inWords(form, section));
    } catch {
      delete form.dataset.busy;
      own.left(form);
      form.submit();
      return;
    }
    const stops = section ? ownStops(form) : [];
    done(form, section);
    const button = form.querySelector(".main");
    button?.setAttribute("aria-disabled", "true");
    await Promise.race([own.send(), wait(WAIT_TO_SHOW)]);
    button?.removeAttribute("aria-disabled");
    delete form.dataset.busy;
    moveOn(form, section, stops, said.exception);
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

  function moveOn(form, section, stops, exception) {
    render();
    if (!section) return (form.closest(".message") ? $("messages") : $("office")).focus();
    if ("task" in section.dataset) {
      const known = own.state.tasks[section.id];
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
    field.type === "radio" || field.type === "checkbox" ? field.checked !== field.defaultChecked : field.type !== "hidden" && field.value !== (field.defaultValue ?? "");

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
        if (field?.type === "checkbox") field.checked = true;
        else if (field) field.value = value;
      }
    }
  }

  // ---- what is shown

  const on = (section) => own.waiting.filter((each) => !each.why && each.form.anchor === section.id);
  const isDone = (section) => section.id in own.state.tasks || on(section).length > 0;

  function current() {
    const opening = tasks.filter((section) => !("closingStep" in section.dataset));
    const closing = tasks.filter((section) => "closingStep" in section.dataset);
    const first = opening.find((section) => !isDone(section));
    if (first) return first.id;
    if (officeNow() < new Date(own.state.closing_from)) return "count";
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

  function render() {
    for (const section of tasks) renderTask(section);
    put($("office"), own.state.office);
    put($("counts"), own.state.counts);
    renderMessages();
    renderNow();
    own.renderStrip($("strip"));
    renderAlarm();
  }

  function renderTask(section) {
    const known = own.state.tasks[section.id], mine = on(section), form = section.querySelector("form");
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
      if (words) words.textContent = how ? inState(how) : section.querySelector(".eyebrow span + span").textContent;
    }
  }

  const inState = (how) =>
    ({ stopped: `the ${OFFICE} has been told, look here`, waiting: `kept on this phone, not yet at the ${OFFICE}`, done: `at the ${OFFICE}` })[how];

  // a message stays until it is acknowledged; one acknowledged here and not yet at the office says so
  function renderMessages() {
    put($("messages"), own.state.messages);
    let unread = 0;
    for (const each of document.querySelectorAll("[data-message]")) {
      const mine = own.waiting.find((one) => !one.why && one.form.message === each.dataset.message);
      const sofar = each.querySelector(".sofar");
      each.querySelector("form").hidden = Boolean(mine);
      sofar.hidden = !mine;
      sofar.textContent = mine ? `Read. Kept on this phone ${wall(new Date(mine.form.happened_at))}, not yet at the ${OFFICE}.` : "";
      unread += mine ? 0 : 1;
    }
    $("to-message").hidden = !unread;
  }

  function renderNow() {
    const next = current(), old = sections.find((section) => section.classList.contains("now"));
    const busy = old && old.id !== next && !isDone(old) && typed(old.querySelector("form")).length > 0;
    if (!busy)
      for (const section of sections) section.classList.toggle("now", section.id === next);
    for (const mark of document.querySelectorAll(`.bar [data-of="${next}"]`)) mark.className ||= "now";
    const there = Object.keys(own.state.tasks).length, here = tasks.filter((section) => on(section).length).length;
    $("far").textContent =
      `${there} of ${tasks.length} steps are at the ${OFFICE}${here ? `, ${here} on this phone` : ""}.` +
      (own.contact ? ` As of ${wall(officeAt(own.contact), true)}.` : "");
    $("now").textContent = wall(officeNow());
    aside();
  }

  function renderAlarm() {
    const here = shown(), lines = [];
    for (const section of tasks) {
      if (!own.state.tasks[section.id]?.stop) continue;
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

  function tapped(event) {
    const way = event.target.closest("a");
    if (!way) return;
    const section = way.closest("section");
    if (way.matches(".task .again")) {
      event.preventDefault();
      const form = section.querySelector("form"), mine = on(section);
      form.elements.corrects.value = own.state.tasks[section.id]?.key || mine.at(-1)?.form.key || "";
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
      const known = section.querySelector(".reports"), local = document.createElement("div"), sofar = document.createElement("p");
      local.className = "local";
      sofar.className = "sofar";
      sofar.hidden = true;
      known.after(sofar, local);
      if (section.querySelector(".bare")) fill(section);
      if (section.dataset.key) own.state.tasks[section.id] = { key: section.dataset.key, stop: Boolean(known.querySelector(".stop:not(.over)")), html: known.innerHTML };
      own.isIn(known);
    }
    try {
      await own.remember();
      putDraftsBack(await kept("readonly", (queue, notes) => notes.get(`drafts ${PLACE}`)));
    } catch {
      // nothing can be kept here (a private window, a full phone): every form is sent by the browser itself
    }
    document.addEventListener("submit", submitted);
    document.addEventListener("click", tapped);
    document.addEventListener("input", keepDrafts);
    addEventListener("hashchange", () => (aside(), render()));
    await own.begin();
  }

  start().catch(() => undefined);
})();
