/** One named stretch of time. Years as stated by the source, which may let neighbours share a year. */
export interface Period {
  /** Key within its list, and the list before it: `england:roman`, `he:RO`. */
  readonly key: string
  readonly name: string
  readonly otherNames: readonly string[]
  readonly from: number
  readonly to: number
  /** Key of the period it is part of; null for none. */
  readonly broader: string | null
}

const row = (name: string, from: number, to: number, ...otherNames: string[]): Period => ({
  key: `england:${name.toLowerCase().replace(/[ -]/g, '-')}`,
  name,
  otherNames,
  from,
  to,
  broader: null,
})

/** Broad periods of England: common practice, from memory; regions differ, and Scotland and Ireland had no Roman period of this kind. */
export const broadPeriods: readonly Period[] = [
  row('Palaeolithic', -900_000, -10_001, 'Paleolithic', 'Old Stone Age'),
  row('Mesolithic', -10_000, -4001, 'Middle Stone Age'),
  row('Neolithic', -4000, -2351, 'New Stone Age'),
  row('Bronze Age', -2350, -801),
  row('Iron Age', -800, 42),
  row('Roman', 43, 409, 'Romano-British'),
  row('Early medieval', 410, 1065, 'Anglo-Saxon', 'Saxon', 'Early mediaeval'),
  row('Medieval', 1066, 1539, 'Mediaeval', 'Middle Ages'),
  row('Post-medieval', 1540, 1900, 'Postmedieval', 'Post-mediaeval'),
  row('Modern', 1901, 2100),
]

/** Periods by every name they go by, in small letters with single spaces for hyphens. The first of a list keeps a name. */
export function periodsByName(periods: readonly Period[]): ReadonlyMap<string, Period> {
  const byName = new Map<string, Period>()
  for (const pick of [(p: Period) => [p.name], (p: Period) => p.otherNames]) {
    for (const period of periods) {
      for (const name of pick(period)) if (!byName.has(plainName(name))) byName.set(plainName(name), period)
    }
  }
  return byName
}

export function plainName(name: string): string {
  return name
    .toLowerCase()
    .replace(/[\s-]+/g, ' ')
    .trim()
}
