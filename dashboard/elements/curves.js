// One small curve a step: the share of places done against the clock, with an earlier election's curve behind it.

const SVG = "http://www.w3.org/2000/svg"
const WIDE = 100
const HIGH = 30

function drawn(name, attributes) {
  const node = document.createElementNS(SVG, name)
  Object.entries(attributes).forEach(([key, value]) => node.setAttribute(key, value))
  return node
}

const line = points => points.map(([x, y]) => `${(x * WIDE).toFixed(1)},${(HIGH - y * HIGH).toFixed(1)}`).join(" ")

function curve(step) {
  const svg = drawn("svg", { viewBox: `0 -1 ${WIDE} ${HIGH + 2}`, preserveAspectRatio: "none", "aria-hidden": "true" })
  const last = step.today[step.today.length - 1]
  if (last) {
    const area = `0,${HIGH} ${line(step.today)} ${(last[0] * WIDE).toFixed(1)},${HIGH}`
    svg.append(drawn("polygon", { class: "pr-curve-area", points: area }))
  }
  svg.append(drawn("line", { class: "pr-curve-base", x1: 0, x2: WIDE, y1: HIGH, y2: HIGH }))
  if (step.due !== null) svg.append(drawn("line", { class: "pr-curve-due", x1: step.due * WIDE, x2: step.due * WIDE, y1: 0, y2: HIGH }))
  svg.append(drawn("polyline", { class: "pr-curve-earlier", points: line(step.earlier) }))
  svg.append(drawn("polyline", { class: "pr-curve-today", points: line(step.today) }))
  return svg
}

export default function (component) {
  const { data, parentElement } = component
  const list = parentElement.querySelector("ul")
  const items = data.steps.map(step => {
    const item = document.createElement("li")
    const name = document.createElement("span")
    name.textContent = step.name
    const share = document.createElement("span")
    share.className = "pr-number"
    share.textContent = step.says
    const title = document.createElement("p")
    title.append(name, share)
    item.append(title, curve(step))
    item.title = step.detail
    return item
  })
  list.replaceChildren(...items)
}
