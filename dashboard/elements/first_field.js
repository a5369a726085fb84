// Puts the cursor into the first field of a form whenever a new one is begun, and never while somebody types.

let begun = null

export default function ({ data }) {
  if (data.token === begun) return
  const field = document.querySelector(`.${data.within} input`)
  if (!field) return
  begun = data.token
  field.focus({ preventScroll: true })
}
