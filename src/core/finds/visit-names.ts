/** What names a visit. */
export interface NamedVisit {
  readonly uuid: string
  /** 2026-09-12 */
  readonly day: string | null
  readonly person: string | null
}

/**
 * A name for each visit, by UUID: its day, with the person where one is told. Visits that would be called alike are numbered in their order.
 *
 * @example visitNames([{ uuid: 'a', day: '2026-09-12', person: 'Ann' }]).get('a') // '2026-09-12, Ann'
 */
export function visitNames(visits: readonly NamedVisit[]): ReadonlyMap<string, string> {
  const met = new Map<string, number>()
  return new Map(
    visits.map(({ uuid, day, person }) => {
      const name = [day ?? 'without a date', person].filter(Boolean).join(', ')
      const times = (met.get(name) ?? 0) + 1
      met.set(name, times)
      return [uuid, times === 1 ? name : `${name} (${times})`]
    }),
  )
}
