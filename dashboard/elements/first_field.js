// Puts the cursor into the first field of a form whenever a new one is begun, and never while somebody types.

const PATIENCE = 50 // looks, 100 ms apart, until the field is drawn

let begun = null

export default function ({ data }) {
  if (data.token === begun) return
  begun = data.token
  let looked = 0
  function look() {
    const field = document.querySelector(`.${data.within} input`)
    if (field) field.focus({ preventScroll: true })
    if (!field && ++looked < PATIENCE) setTimeout(look, 100)
  }
  setTimeout(look, 0)
}
