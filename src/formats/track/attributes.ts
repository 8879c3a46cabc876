/** How many values of each name a map holds; lives as long as the map. */
const counts = new WeakMap<Map<string, string>, Map<string, number>>()

/**
 * Keeps a value under its name; a second value of the same name goes under `name[2]`, and so on. Nothing is overwritten; a
 * value equal to the first of its name is not kept twice. Cost: constant, however often a name occurs.
 */
export function keepAttribute(attributes: Map<string, string>, name: string, value: string): void {
  const first = attributes.get(name)
  if (first === undefined) attributes.set(name, value)
  else if (first !== value) {
    const ofMap = counts.get(attributes) ?? new Map<string, number>()
    counts.set(attributes, ofMap)
    const n = (ofMap.get(name) ?? 1) + 1
    ofMap.set(name, n)
    attributes.set(`${name}[${n}]`, value)
  }
}

/** A plain record of the collected values; safe for any name, `__proto__` included. */
export function attributesOf(attributes: Map<string, string>): Record<string, string> {
  return Object.fromEntries(attributes)
}
