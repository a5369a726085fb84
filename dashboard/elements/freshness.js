// The line that says how fresh the page is, and that says so by itself when the server falls silent.
//
// One connection a tab carries one beat a second: the newest board's number and the office's time. A newer number asks
// Streamlit to draw again. Everything that makes the page look old is decided here, without the server's help.

const SILENT_AFTER = 4500 // ms without a beat: five missed at most, so that the page is stale within six seconds
const UNDRAWN_AFTER = 10000 // ms behind the newest board
const UNREAD_AFTER = 6 // s since the server itself could read the ledger
const USED_EVERY = 30000 // ms
const CHOICE_FIRST = 1000 // ms after a click, or Enter, in which no newer board is asked for
const SIGNED_OUT = 4401 // how the server closes the socket of somebody who is signed out
const REFUSED = 1006 // how the browser says that a socket was refused, or broke

const office = (globalThis.__pollrise ??= { pages: new Set(), beat: null, heardAt: performance.now(), wait: 500, usedAt: 0, choseAt: -Infinity })

function connect() {
  const address = new URL("live", document.baseURI)
  address.protocol = address.protocol.replace("http", "ws")
  const socket = new WebSocket(address)
  socket.onmessage = message => {
    office.beat = JSON.parse(message.data)
    office.heardAt = performance.now()
    office.wait = 500
    office.pages.forEach(look => look())
  }
  office.socket = socket
  socket.onclose = event => {
    if (event.code === SIGNED_OUT) return toTheDoor()
    if (event.code === REFUSED) askAtTheDoor()
    setTimeout(connect, office.wait * (0.75 + Math.random() / 2))
    office.wait = Math.min(office.wait * 2, 5000)
  }
}

// Whoever is signed out, here or anywhere, is led to the door, and from there back to where they were.
function toTheDoor() {
  location.assign(`/sign-in?next=${encodeURIComponent(location.pathname + location.search)}`)
}

// A socket that was refused does not say why: ask for its address as a page's part is asked for.
function askAtTheDoor() {
  fetch(new URL("live", document.baseURI)).then(answer => answer.status === 401 && toTheDoor(), () => {})
}

// That a person uses this page, told now and then: it is what keeps them signed in.
function used() {
  const now = performance.now()
  if (now - office.usedAt < USED_EVERY || office.socket?.readyState !== WebSocket.OPEN) return
  office.usedAt = now
  office.socket.send("used")
}

// What a person has just chosen stands in the address only after the page was drawn with it. A newer board asked for
// before that would be drawn with the address of before, and undo the choice.
function choosing() {
  const state = document.querySelector("[data-test-script-state]")?.dataset.testScriptState
  return state === "running" || state === "rerunRequested" || performance.now() - office.choseAt < CHOICE_FIRST
}

function wall(seconds, zone) {
  const form = { timeZone: zone, hour: "2-digit", minute: "2-digit", second: "2-digit", hourCycle: "h23" }
  return new Intl.DateTimeFormat("en-US", form).format(new Date(seconds * 1000))
}

function ago(seconds) {
  if (seconds < 100) return `${Math.max(0, Math.round(seconds))} s ago`
  if (seconds < 5400) return `${Math.round(seconds / 60)} min ago`
  return `${Math.floor(seconds / 3600)} h ${Math.round((seconds % 3600) / 60)} min ago`
}

// What is wrong with what the page shows, in words; empty where nothing is.
function fault(data, drawnAt) {
  const beat = office.beat
  const silent = performance.now() - office.heardAt > SILENT_AFTER
  if (silent) return `Not updating since ${wall(beat ? beat.now : data.now, data.zone)}`
  if (!beat) return ""
  if (beat.behind > UNREAD_AFTER) return `The ledger cannot be read since ${wall(beat.now - beat.behind, data.zone)}`
  const undrawn = beat.revision > data.revision && !document.hidden && performance.now() - drawnAt > UNDRAWN_AFTER
  return undrawn ? `This page was last drawn at ${wall(data.now, data.zone)}` : ""
}

// The bar across the top hangs on the page itself: nothing that is drawn again, greyed or scrolled takes it along.
function bar() {
  let found = document.getElementById("pr-stale")
  if (!found) {
    found = document.createElement("div")
    found.id = "pr-stale"
    found.className = "pr-stale"
    found.setAttribute("role", "alert")
    found.append(document.createElement("b"), " What stands below is old. Telephone the places.")
    document.body.append(found)
  }
  return found
}

export default function (component) {
  const { data, parentElement, setStateValue } = component
  const at = name => parentElement.querySelector(`[data-at=${name}]`)
  const drawnAt = performance.now()
  let asked = data.revision

  function look() {
    const beat = office.beat
    const says = fault(data, drawnAt)
    document.documentElement.toggleAttribute("data-stale", says !== "")
    bar().hidden = says === ""
    bar().firstChild.textContent = `${says}.`
    at("alarm").hidden = !beat?.alarm
    if (at("alarm").textContent !== (beat?.alarm ?? "")) at("alarm").textContent = beat?.alarm ?? ""
    at("time").textContent = wall(beat ? beat.now : data.now, data.zone)
    const last = beat ? beat.last : data.last
    at("last").textContent = last === null ? "no report yet" : `last report ${ago((beat ? beat.now : data.now) - last)}`
    if (beat && beat.revision > asked && !document.hidden && !choosing()) {
      asked = beat.revision
      setStateValue("revision", asked)
    }
  }

  at("zone").textContent = data.zoneWord
  at("election").textContent = data.election
  office.pages.clear()
  office.pages.add(look)
  if (!office.timer) {
    connect()
    office.timer = setInterval(() => office.pages.forEach(each => each()), 500)
    for (const sign of ["pointerdown", "keydown", "wheel"]) document.addEventListener(sign, used, { passive: true })
    const chose = () => (office.choseAt = performance.now())
    document.addEventListener("click", chose, { capture: true, passive: true })
    document.addEventListener("keydown", event => event.key === "Enter" && chose(), { capture: true, passive: true })
    document.addEventListener("visibilitychange", () => office.pages.forEach(each => each()))
  }
  look()
  return () => office.pages.delete(look)
}
