/** Keeps a value under its name; a second value of the same name goes under `name[2]`, and so on. Nothing is overwritten. */
export function keepAttribute(attributes: Map<string, string>, name: string, value: string): void {
  let key = name
  for (let n = 2; attributes.has(key); n++) {
    if (attributes.get(key) === value) return
    key = `${name}[${n}]`
  }
  attributes.set(key, value)
}

/** A plain record of the collected values; safe for any name, `__proto__` included. */
export function attributesOf(attributes: Map<string, string>): Record<string, string> {
  return Object.fromEntries(attributes)
}
