// How soon cases were acknowledged or reached: one small curve an effect, the county's targets as upright strokes.

const SVG = "http://www.w3.org/2000/svg"
const WIDE = 300
const HIGH = 72

function drawn(name, attributes, ...children) {
  const node = document.createElementNS(SVG, name)
  Object.entries(attributes).forEach(([key, value]) => node.setAttribute(key, value))
  node.append(...children)
  return node
}

function tag(name, attributes, ...children) {
  const node = document.createElement(name)
  Object.entries(attributes).forEach(([key, value]) => node.setAttribute(key, value))
  node.append(...children)
  return node
}

function chart(panel) {
  const x = minute => ((minute / panel.until) * WIDE).toFixed(1)
  const upright = wait => drawn("line", { class: "pr-waits-target", "data-of": wait.of, x1: x(wait.target), x2: x(wait.target), y1: 0, y2: HIGH })
  const curve = wait => drawn("polyline", {
    class: "pr-waits-curve",
    "data-of": wait.of,
    points: wait.points.map(([minute, share]) => `${x(minute)},${((1 - share) * HIGH).toFixed(1)}`).join(" "),
  })
  return drawn(
    "svg",
    { viewBox: `0 -2 ${WIDE} ${HIGH + 4}`, preserveAspectRatio: "none", role: "img", "aria-label": panel.label },
    drawn("line", { class: "pr-waits-base", x1: 0, x2: WIDE, y1: HIGH, y2: HIGH }),
    drawn("line", { class: "pr-waits-half", x1: 0, x2: WIDE, y1: HIGH / 2, y2: HIGH / 2 }),
    ...panel.waits.map(upright),
    ...panel.waits.map(curve),
  )
}

function key(of) {
  const stroke = drawn("line", { class: "pr-waits-curve", "data-of": of, x1: 0, x2: 22, y1: 5, y2: 5 })
  return drawn("svg", { viewBox: "0 0 22 10", class: "pr-waits-key", "aria-hidden": "true" }, stroke)
}

function drawnPanel(panel) {
  const minutes = panel.ticks.map(minute => tag("span", {}, minute))
  const lines = panel.waits.map(wait => tag("li", {}, key(wait.of), tag("b", {}, wait.name), ` ${wait.says}`))
  return tag(
    "section",
    {},
    tag("h3", {}, panel.title),
    tag("div", { class: "pr-waits-chart" }, tag("p", { "aria-hidden": "true" }, tag("span", {}, "all"), tag("span", {}, "half"), tag("span", {}, "none")), chart(panel)),
    tag("p", { class: "pr-waits-axis", "aria-hidden": "true" }, ...minutes),
    tag("ul", {}, ...lines),
  )
}

export default function (component) {
  const { data, parentElement } = component
  parentElement.querySelector("div").className = "pr-waits"
  parentElement.querySelector("div").replaceChildren(...data.panels.map(drawnPanel))
}
