// Tells what stands in a field while it is being typed, a moment after each pause, without touching the field itself.

const PAUSE = 250 // ms
const PATIENCE = 50 // looks, 100 ms apart, until the field is drawn

export default function ({ data, setStateValue }) {
  let looked = 0
  let timer = 0
  let heard = null

  function tell(field) {
    clearTimeout(timer)
    timer = setTimeout(() => setStateValue("typed", { of: data.token, text: field.value }), PAUSE)
  }

  function listen() {
    const field = document.querySelector(`.${data.within} input`)
    if (!field && ++looked < PATIENCE) return void (timer = setTimeout(listen, 100))
    if (!field) return
    const told = () => tell(field)
    field.addEventListener("input", told)
    heard = () => field.removeEventListener("input", told)
  }

  listen()
  return () => {
    clearTimeout(timer)
    heard?.()
  }
}
