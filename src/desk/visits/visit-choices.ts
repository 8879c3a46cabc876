import type { Visit } from '#contract'

/** Choices over the visits there are: all, each year, each visit. */
export function choicesOf(visits: readonly Visit[]): { readonly value: string; readonly text: string }[] {
  const years = [...new Set(visits.flatMap(({ day }) => (day === null ? [] : [day.slice(0, 4)])))].sort()
  return [
    { value: 'all', text: 'All visits' },
    ...(years.length > 1 ? years.map((year) => ({ value: `year ${year}`, text: `All of ${year}` })) : []),
    ...visits.map(({ id, name, person }) => ({
      value: `visit ${id}`,
      text: person === null ? name : `${name}, ${person}`,
    })),
  ]
}

/** The visits that a choice stands for; null for all, also where the choice has gone. */
export function visitsChosen(chosen: string, visits: readonly Visit[]): number[] | null {
  const [kind, what] = chosen.split(' ')
  const found = visits.filter(({ id, day }) =>
    kind === 'year' ? day?.startsWith(what!) : kind === 'visit' && String(id) === what,
  )
  return found.length === 0 ? null : found.map(({ id }) => id)
}
