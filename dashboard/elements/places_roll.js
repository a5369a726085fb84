// The places of a county, sent once, so that a map which is drawn again and again is sent only how they stand.

export default function ({ data }) {
  globalThis.prRolls ??= new Map()
  globalThis.prRolls.set(data.name, data.places)
}
