// A list of rows to choose from, each known by its id, so that a row stays the chosen one wherever it moves to.

function cell(name, ...children) {
  const node = document.createElement("span")
  node.className = name
  node.append(...children.filter(child => child !== null))
  return node
}

function shape(of) {
  const node = cell("pr-mark")
  node.dataset.of = of
  node.setAttribute("aria-hidden", "true")
  return node
}

function bar({ share, mark, over }) {
  const filled = cell("pr-bar-filled")
  filled.style.width = `${share * 100}%`
  const target = mark === null ? null : cell("pr-bar-target")
  if (target) target.style.left = `${mark * 100}%`
  const node = cell(over ? "pr-bar pr-over" : "pr-bar", filled, target)
  node.setAttribute("aria-hidden", "true")
  return node
}

function fill(button, row) {
  const title = cell("pr-row-title", shape(row.mark), cell("pr-row-name", row.title), cell("pr-quiet", row.beside))
  const parts = [cell("pr-row-main", title, cell("pr-row-says", row.says))]
  if (row.state) {
    const state = cell(row.alarm ? "pr-row-state pr-warn" : "pr-row-state", row.state)
    parts.push(cell("pr-row-clock", state, row.bar ? bar(row.bar) : null))
  }
  if (row.who !== null) parts.push(cell("pr-row-who pr-quiet", row.who))
  button.replaceChildren(...parts)
}

export default function (component) {
  const { data, parentElement, setTriggerValue } = component
  const list = parentElement.querySelector("ol")
  list.className = `pr-rows pr-rows-${data.kind}`
  list.setAttribute("aria-label", data.label)
  const held = new Map([...list.children].map(item => [item.dataset.id, item]))
  data.rows.forEach((row, place) => {
    let item = held.get(row.id)
    if (!item) {
      item = document.createElement("li")
      item.dataset.id = row.id
      item.append(document.createElement("button"))
      item.firstChild.type = "button"
    }
    held.delete(row.id)
    const says = JSON.stringify(row)
    if (item.dataset.says !== says) {
      item.dataset.says = says
      fill(item.firstChild, row)
      item.firstChild.setAttribute("aria-pressed", row.chosen ? "true" : "false")
    }
    item.firstChild.onclick = () => {
      setTriggerValue("chosen", row.id)
      // on a narrow screen what was chosen stands above the list, out of sight
      if (matchMedia("(max-width: 760px)").matches) document.querySelector(".st-key-case")?.scrollIntoView()
    }
    // a row is moved only when it must, so that the one with the keyboard's focus keeps it
    if (list.children[place] !== item) list.insertBefore(item, list.children[place] ?? null)
  })
  held.forEach(item => item.remove())
}
