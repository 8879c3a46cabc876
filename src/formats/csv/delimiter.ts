const candidates = [',', ';', '\t', '|'] as const
export type Delimiter = (typeof candidates)[number]

const looked = 20

type Counts = Readonly<Record<Delimiter, number>>

/** Candidates in each of the first rows, those inside quoted cells not counted; a quoted cell may run over lines. */
function countsByRow(text: string): Counts[] {
  const rows: Record<Delimiter, number>[] = []
  let counts = { ',': 0, ';': 0, '\t': 0, '|': 0 }
  let quoted = false
  let cellStart = true
  let blank = true
  for (let i = 0; i < text.length && rows.length < looked; i++) {
    const character = text[i]!
    if (quoted) {
      if (character === '"' && text[i + 1] === '"') i++
      else if (character === '"') quoted = false
      continue
    }
    const candidate = candidates.find((delimiter) => delimiter === character)
    if (character === '\n') {
      if (!blank) rows.push(counts)
      counts = { ',': 0, ';': 0, '\t': 0, '|': 0 }
      blank = true
    } else if (character === '"' && cellStart) quoted = true
    else if (candidate !== undefined) counts[candidate]++
    cellStart = character === '\n' || candidate !== undefined
    if (character !== '\n' && character !== ' ') blank = false
  }
  if (!blank && rows.length < looked) rows.push(counts)
  return rows
}

/**
 * The delimiter that parts the first lines most evenly: comma, semicolon, tab or bar. One that stands in the first line is
 * preferred, for a decimal comma stands only in rows of numbers. `sep=;` as a first line is believed. A table of one column
 * has none: the comma then does no harm.
 */
export function delimiterOf(text: string): Delimiter {
  const stated = /^sep=([,;\t|])\s*\n/i.exec(text)?.[1]
  if (stated !== undefined) return stated as Delimiter
  const rows = countsByRow(text.slice(0, 100_000))
  const scored = candidates.map((delimiter) => {
    const counts = rows.map((row) => row[delimiter])
    const often = new Map<number, number>()
    for (const count of counts) if (count > 0) often.set(count, (often.get(count) ?? 0) + 1)
    const [usual = 0, alike = 0] = [...often].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0] ?? []
    const inFirst = (counts[0] ?? 0) > 0 ? 3 : 1
    return {
      delimiter,
      score: alike === 0 ? 0 : (alike / rows.length) * inFirst + Math.min(usual, 50) / 1000,
    }
  })
  scored.sort((a, b) => b.score - a.score)
  return scored[0]?.score ? scored[0].delimiter : ','
}
