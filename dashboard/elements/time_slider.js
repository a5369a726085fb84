// A slider over the whole day that can be played. The thumb moves here, without the server; the server is asked for
// the next moment only when it has drawn the one before, so that nothing piles up and nothing flickers.

const PATIENCE = 4000 // ms after which a moment that was not drawn is not waited for any longer
const SVG = "http://www.w3.org/2000/svg"

function wall(seconds, zone) {
  const form = { timeZone: zone, hour: "2-digit", minute: "2-digit", hourCycle: "h23" }
  return new Intl.DateTimeFormat("en-US", form).format(new Date(seconds * 1000))
}

// How many places the office was behind on, along the day.
function strip(svg, points) {
  const shape = document.createElementNS(SVG, "polygon")
  svg.setAttribute("viewBox", "0 0 1 1")
  const line = points.map(([x, y]) => `${x},${1 - y}`).join(" ")
  shape.setAttribute("points", `0,1 ${line} 1,1`)
  svg.replaceChildren(shape)
}

function marks(box, data) {
  const along = at => (at - data.begins) / (data.ends - data.begins)
  box.replaceChildren(
    ...data.marks.map(([at, says]) => {
      const mark = document.createElement("span")
      mark.style.left = `${along(at) * 100}%`
      mark.dataset.near = along(at) < 0.12 ? "begin" : along(at) > 0.88 ? "end" : ""
      mark.textContent = says
      return mark
    }),
  )
}

function begun(root, data) {
  const part = name => root.querySelector(`[data-part=${name}]`)
  const state = { range: part("range"), time: part("time"), play: part("play"), speed: part("speed"), playing: false }
  state.speed.append(...data.speeds.map(each => new Option(`${each} times`, each)))
  state.moment = data.at
  state.sent = data.at
  state.sentAt = 0
  const show = () => {
    state.range.value = state.moment
    const says = wall(state.moment, state.data.zone)
    state.time.textContent = says
    state.range.setAttribute("aria-valuetext", says)
  }
  const send = () => {
    const whole = Math.floor(state.moment / state.data.step) * state.data.step
    const waiting = state.data.at !== state.sent && performance.now() - state.sentAt < PATIENCE
    if (whole === state.sent || waiting) return
    state.sent = whole
    state.sentAt = performance.now()
    state.tell("at", whole)
  }
  const stop = () => {
    state.playing = false
    state.play.textContent = "Play"
    state.play.setAttribute("aria-pressed", "false")
  }
  const go = before => now => {
    if (!state.playing || !root.isConnected) return
    state.moment = Math.min(state.data.ends, state.moment + ((now - before) / 1000) * Number(state.speed.value))
    show()
    send()
    if (state.moment >= state.data.ends) return stop()
    requestAnimationFrame(go(now))
  }
  state.play.onclick = () => {
    if (state.playing) return stop()
    if (state.moment >= state.data.ends) state.moment = state.data.begins
    state.playing = true
    state.play.textContent = "Pause"
    state.play.setAttribute("aria-pressed", "true")
    requestAnimationFrame(go(performance.now()))
  }
  state.range.oninput = () => {
    state.moment = Number(state.range.value)
    show()
    send()
  }
  state.show = show
  // the last position of a drag, or the moment after a pause, is told as soon as the one before is drawn
  state.timer = setInterval(() => (root.isConnected ? send() : clearInterval(state.timer)), 100)
  return state
}

export default function (component) {
  const { data, parentElement, setStateValue } = component
  const root = parentElement.querySelector(".pr-slider")
  const state = (root.prSlider ??= begun(root, data))
  state.data = data
  state.tell = setStateValue
  Object.assign(state.range, { min: data.begins, max: data.ends, step: data.step })
  const part = name => root.querySelector(`[data-part=${name}]`)
  strip(part("behind"), data.behind)
  marks(part("marks"), data)
  if (!state.playing && data.go !== state.go) {
    // somewhere else on the page another moment was chosen
    state.go = data.go
    state.moment = state.sent = data.at
  }
  state.show()
}
