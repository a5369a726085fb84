// The rover's page: shows what is assigned as soon as it is, keeps a tap on the phone and sends it, and shows what was
// tapped as done while it waits. Keeping, sending and asking is phone.js's. Without script every button still works.
"use strict";
(() => {
  const { rover: ROVER, office: OFFICE } = document.body.dataset;
  const LOOK_EVERY = 2000, WAIT_TO_SHOW = 2000;
  const STEPS = ["accept", "under-way", "on-site", "clear"];
  const WORDS = { accept: "Accepted", "under-way": "Under way", "on-site": "On site", clear: "Cleared", cannot: "Cannot", note: "Note" };
  const $ = (id) => document.getElementById(id);
  const list = $("assignments"), cleared = $("cleared");
  const own = phone({
    whose: ROVER,
    sendTo: "actions",
    lookEvery: LOOK_EVERY,
    state: null,
    render: () => render(),
  });
  const articles = () => [...list.querySelectorAll("article")];
  const article = (name) => articles().find((each) => each.dataset.case === name);
  const tapsOn = (name) => own.waiting.filter((each) => !each.why && each.form.case === name);

  // ---- a button is tapped

  async function tapped(event) {
    const form = event.target;
    if (!own.usable) return own.left(form); // the browser sends it as it is
    event.preventDefault();
    if (form.dataset.busy) return;
    form.dataset.busy = "yes";
    const said = own.filled(form, event.submitter || undefined), place = form.closest("article").querySelector("h2").textContent;
    try {
      await own.keep(said, `${WORDS[said.action]}, ${place}`);
    } catch {
      delete form.dataset.busy;
      own.left(form);
      form.submit();
      return;
    }
    form.reset();
    delete form.dataset.busy;
    const details = form.closest(".more");
    if (details) {
      details.open = false;
      details.querySelector("summary").focus();
    }
    render();
    await Promise.race([own.send(), own.wait(WAIT_TO_SHOW)]);
    render();
  }

  // ---- what is shown

  function render() {
    if (own.state) {
      $("sentence").textContent = own.state.sentence;
      own.state.assignments.forEach(place);
      for (const each of articles()) if (!own.state.assignments.some((one) => one.case === each.dataset.case)) takeAway(each);
      own.put(cleared, own.state.cleared);
    }
    for (const each of articles()) renderTaps(each);
    $("now").textContent = own.wall(own.officeNow());
    own.renderStrip($("strip"));
  }

  function place(assigned, position) {
    let shown = article(assigned.case);
    if (!shown) {
      shown = document.createElement("article");
      shown.id = assigned.anchor;
      shown.dataset.case = assigned.case;
      shown.setAttribute("aria-labelledby", `${assigned.anchor}-h`);
    }
    shown.className = assigned.effect;
    shown.dataset.known = assigned.reached;
    own.put(shown, assigned.html);
    const there = articles()[position];
    if (there === shown) return;
    const focused = document.activeElement;
    list.insertBefore(shown, there || cleared);
    if (shown.contains(focused)) focused.focus({ preventScroll: true });
  }

  // what is being written stays until the finger leaves it
  function takeAway(shown) {
    if (document.activeElement.tagName === "TEXTAREA" && shown.contains(document.activeElement)) return;
    const focused = shown.contains(document.activeElement);
    shown.remove();
    if (focused) list.focus({ preventScroll: true });
  }

  function renderTaps(shown) {
    const taps = tapsOn(shown.dataset.case), soFar = shown.querySelector(".sofar");
    const known = Number(shown.dataset.known ?? shown.dataset.reached);
    const reached = taps.some((each) => each.form.action === "cannot") ? 4 : Math.max(known, ...taps.map((each) => STEPS.indexOf(each.form.action) + 1));
    if (shown.dataset.known === undefined) shown.dataset.known = known;
    const clearing = shown.querySelector(".clearing");
    if (reached === 3 && shown.dataset.reached !== "3") clearing.open = true;
    shown.dataset.reached = reached;
    soFar.hidden = !taps.length;
    const said = taps.map((each) => `${WORDS[each.form.action]} ${own.wall(new Date(each.form.happened_at))}`).join(", ");
    soFar.textContent = taps.length ? `${said}: kept on this phone, not yet at the ${OFFICE}.` : "";
  }

  async function start() {
    for (const each of articles()) own.isIn(each);
    try {
      await own.remember();
    } catch {
      // nothing can be kept here (a private window, a full phone): every form is sent by the browser itself
    }
    document.addEventListener("submit", tapped);
    await own.begin();
  }

  start().catch(() => undefined);
})();
