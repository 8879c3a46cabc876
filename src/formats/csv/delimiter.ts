const candidates = [',', ';', '\t', '|'] as const
export type Delimiter = (typeof candidates)[number]

const looked = 20

/** Delimiters in one line, those inside double quotes not counted. */
function countOutsideQuotes(line: string, delimiter: string): number {
  let count = 0
  let quoted = false
  for (const character of line) {
    if (character === '"') quoted = !quoted
    else if (character === delimiter && !quoted) count++
  }
  return count
}

/**
 * The delimiter that parts the first lines most evenly: comma, semicolon, tab or bar. One that stands in the first line is
 * preferred, for a decimal comma stands only in rows of numbers. `sep=;` as a first line is believed. A table of one column
 * has none: the comma then does no harm.
 */
export function delimiterOf(text: string): Delimiter {
  const stated = /^sep=([,;\t|])\s*\n/i.exec(text)?.[1]
  if (stated !== undefined) return stated as Delimiter
  const lines = text
    .slice(0, 100_000)
    .split('\n')
    .filter((line) => line.trim() !== '')
    .slice(0, looked)
  const scored = candidates.map((delimiter) => {
    const counts = lines.map((line) => countOutsideQuotes(line, delimiter))
    const often = new Map<number, number>()
    for (const count of counts) if (count > 0) often.set(count, (often.get(count) ?? 0) + 1)
    const [usual = 0, lineCount = 0] = [...often].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0] ?? []
    const first = counts[0]! > 0 ? 1 : 0
    return { delimiter, score: (lineCount / lines.length) * (1 + first) + Math.min(usual, 50) / 1000 }
  })
  scored.sort((a, b) => b.score - a.score)
  return scored[0]?.score ? scored[0].delimiter : ','
}
