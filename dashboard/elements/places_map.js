// Where the places lie, drawn on a canvas without a map behind them: east and north to one scale, the worst on top.

const EDGE = 14
const TURN = 2 * Math.PI

const polygon = corners => (pen, x, y, r) => {
  pen.beginPath()
  corners.forEach(([dx, dy]) => pen.lineTo(x + dx * r, y + dy * r))
  pen.closePath()
}
const circle = (pen, x, y, r) => {
  pen.beginPath()
  pen.arc(x, y, r, 0, TURN)
}
const square = polygon([[-0.9, -0.9], [0.9, -0.9], [0.9, 0.9], [-0.9, 0.9]])
const hexagon = polygon([[-0.55, -1], [0.55, -1], [1.15, 0], [0.55, 1], [-0.55, 1], [-1.15, 0]])
const bar = polygon([[-1.1, -0.5], [1.1, -0.5], [1.1, 0.5], [-1.1, 0.5]])

// the same shapes as .pr-mark in look.css
const SHAPES = {
  unheard: { path: circle, dashed: true },
  "not-due": { path: circle },
  preparing: { path: circle },
  ready: { path: circle, half: [-2, -2, 2, 4] },
  "held-up": { path: square },
  late: { path: polygon([[-0.8, -1], [1.1, 0], [-0.8, 1]]), filled: true },
  "expected-late": { path: polygon([[-0.8, -1], [1.1, 0], [-0.8, 1]]) },
  open: { path: circle, filled: true },
  impaired: { path: polygon([[0, -1.05], [1.05, 0.85], [-1.05, 0.85]]), filled: true },
  stopped: { path: square, filled: true },
  closed: { path: bar },
  received: { path: bar, filled: true },
  "rover-free": { path: hexagon },
  "rover-asked": { path: hexagon, half: [-2, -2, 2, 4] },
  "rover-under-way": { path: hexagon, half: [-2, 0, 4, 2] },
  "rover-on-site": { path: hexagon, filled: true },
  "rover-off": { path: hexagon },
}

function colours(parent) {
  const probe = document.createElement("span")
  probe.className = "pr-mark"
  parent.append(probe)
  const found = {}
  Object.keys(SHAPES).forEach(of => {
    probe.dataset.of = of
    found[of] = getComputedStyle(probe).color
  })
  probe.remove()
  return found
}

function draw(pen, [x, y], of, radius, ink, paper) {
  const shape = SHAPES[of] ?? SHAPES.unheard
  pen.lineWidth = radius < 4 ? 1.1 : shape.dashed ? 1.6 : 2
  pen.setLineDash(shape.dashed ? [2.4, 2] : [])
  pen.strokeStyle = pen.fillStyle = ink
  shape.path(pen, x, y, radius)
  if (!shape.filled) {
    pen.fillStyle = paper
    pen.fill()
    pen.stroke()
  } else pen.fill()
  if (shape.half) {
    const [left, top, wide, high] = shape.half
    pen.save()
    shape.path(pen, x, y, radius)
    pen.clip()
    pen.fillStyle = ink
    pen.fillRect(x + left * radius, y + top * radius, wide * radius, high * radius)
    pen.restore()
  }
}

// Degrees to pixels: one degree of longitude is as long as the cosine of the latitude says.
function projection(places, wide, high, edge) {
  const east = places.map(place => place[2])
  const north = places.map(place => place[3])
  const low = Math.min(...north), top = Math.max(...north), west = Math.min(...east), far = Math.max(...east)
  const narrow = Math.cos((((low + top) / 2) * Math.PI) / 180)
  const across = Math.max((far - west) * narrow, 1e-6), up = Math.max(top - low, 1e-6)
  const scale = Math.min((wide - 2 * edge) / across, (high - 2 * edge) / up)
  const left = (wide - across * scale) / 2, above = (high - up * scale) / 2
  return place => [left + (place[2] - west) * narrow * scale, above + (top - place[3]) * scale]
}

// Ways between two points of the map, each as sure as its pattern says.
const PATTERNS = { gone: [], assigned: [6, 4], suggested: [1.5, 4] }
function lines(pen, ways, project, ink) {
  pen.strokeStyle = ink
  pen.lineWidth = 1.6
  for (const [west, south, east, north, sure] of ways) {
    pen.setLineDash(PATTERNS[sure])
    pen.beginPath()
    pen.moveTo(...project([0, 0, west, south]))
    pen.lineTo(...project([0, 0, east, north]))
    pen.stroke()
  }
}

// Names of the worst places, each to the right or left of its shape, left out where it would cover anything named before.
function name(pen, places, points, wide, radius, taken) {
  places.forEach((place, at) => {
    if (!place[5]) return
    const [x, y] = points[at]
    const long = pen.measureText(place[1]).width
    const spots = [x + radius + 5, x - radius - 5 - long].map(left => [left, y - 8, left + long, y + 8])
    const free = spots.find(
      ([a, b, c, d]) => a > 2 && c < wide - 2 && !taken.some(([e, f, g, h]) => a < g && c > e && b < h && d > f),
    )
    if (!free) return
    taken.push(free)
    pen.fillText(place[1], free[0], y + 4)
  })
}

// The places of a map whose roll was sent beforehand (places_roll.js): worst first, each with how it stands.
function standing({ roll, stood, named }) {
  const places = globalThis.prRolls?.get(roll)
  return places && stood.flatMap(([of, those]) => those.map(at => [...places[at], of, named.includes(at), ""]))
}

export default function show(component) {
  const { data, parentElement, setTriggerValue } = component
  const box = parentElement.querySelector(".pr-map")
  const places = data.places ?? standing(data)
  if (!places) {
    const again = requestAnimationFrame(() => show(component))
    return () => cancelAnimationFrame(again)
  }
  box.style.height = `${data.high}px`
  const canvas = box.querySelector("canvas")
  const tip = box.querySelector(".pr-map-tip")
  let points = []

  function paint() {
    const { width: wide, height: high } = box.getBoundingClientRect()
    if (!wide || !high || !places.length) return
    const sharp = window.devicePixelRatio || 1
    canvas.width = wide * sharp
    canvas.height = high * sharp
    const pen = canvas.getContext("2d")
    pen.scale(sharp, sharp)
    const inks = colours(box)
    const style = getComputedStyle(box)
    const room = Math.sqrt((wide * high) / places.length)
    const radius = Math.max(1.7, Math.min(6.5, room * 0.32)) * data.size
    const crowded = places.length > 300
    const project = projection(places, wide, high, places.some(place => place[7]) ? EDGE + 2 * radius : EDGE)
    // what moves stands beside its place, not over it
    points = places.map(place => project(place).map((at, axis) => (place[7] ? at + (axis ? -1 : 1) * radius * 1.6 : at)))
    lines(pen, data.ways ?? [], project, inks["rover-free"])
    // the list is worst first, so it is painted from its end
    for (let at = places.length - 1; at >= 0; at--) {
      draw(pen, points[at], places[at][4], radius * (places[at][5] && crowded ? 1.7 : 1), inks[places[at][4]], style.backgroundColor)
    }
    pen.setLineDash([])
    pen.font = `${12.5 * data.size}px ${style.fontFamily}`
    pen.fillStyle = style.color
    // in a crowd a name would cover other places; the pointer and the table have them
    if (crowded) return
    const taken = points.map(([x, y]) => [x - radius, y - radius, x + radius, y + radius])
    name(pen, places, points, wide, radius, taken)
  }

  function nearest(event) {
    const { left, top } = canvas.getBoundingClientRect()
    const x = event.clientX - left, y = event.clientY - top
    let best = -1, least = 14 * 14
    points.forEach(([px, py], at) => {
      const far = (px - x) ** 2 + (py - y) ** 2
      if (far < least) [best, least] = [at, far]
    })
    return best
  }

  canvas.setAttribute("aria-label", data.label)
  canvas.onmousemove = event => {
    const at = nearest(event)
    tip.hidden = at < 0
    canvas.style.cursor = at < 0 ? "" : "pointer"
    if (at < 0) return
    tip.textContent = `${places[at][1]}: ${places[at][6] || data.words[places[at][4]]}`
    const right = points[at][0] > box.clientWidth / 2
    tip.style.left = right ? "" : `${points[at][0] + 12}px`
    tip.style.right = right ? `${box.clientWidth - points[at][0] + 12}px` : ""
    tip.style.top = `${points[at][1] - 12}px`
  }
  canvas.onmouseleave = () => (tip.hidden = true)
  canvas.onclick = event => {
    const at = nearest(event)
    if (at >= 0) setTriggerValue("chosen", places[at][0])
  }
  box.watch?.disconnect()
  box.watch = new ResizeObserver(paint)
  box.watch.observe(box)
  paint()
  return () => box.watch?.disconnect()
}
