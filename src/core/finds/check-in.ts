/** A find that is to be accounted for after a visit. */
export interface ExpectedBag {
  readonly number: string
  /** `find`: a find of the visit; `label`: a blank label taken out that no find bears yet. */
  readonly kind: 'find' | 'label'
}

export interface CheckIn {
  /** Numbers expected and in hand, in the order they were read. */
  readonly here: readonly ExpectedBag[]
  /** Finds expected whose bag is not in hand. */
  readonly missing: readonly string[]
  /** Blank labels not in hand: used for nothing, or lost. */
  readonly unusedLabels: readonly string[]
  /** Numbers in hand that nobody expected. */
  readonly unexpected: readonly string[]
  /** Numbers read more than once: two bags may bear them. */
  readonly twice: readonly string[]
}

/**
 * What is in hand against what is expected. A number read twice counts once and is told, since two bags must not have one number.
 *
 * Cost  linear.
 */
export function checkIn(expected: readonly ExpectedBag[], read: readonly string[]): CheckIn {
  const byNumber = new Map(expected.map((bag) => [bag.number, bag]))
  const seen = new Set<string>()
  const twice = new Set<string>()
  const here: ExpectedBag[] = []
  const unexpected: string[] = []
  for (const number of read) {
    if (seen.has(number)) {
      twice.add(number)
      continue
    }
    seen.add(number)
    const bag = byNumber.get(number)
    if (bag === undefined) unexpected.push(number)
    else here.push(bag)
  }
  const absent = [...byNumber.values()].filter(({ number }) => !seen.has(number))
  const of = (kind: ExpectedBag['kind']): string[] =>
    absent.filter((bag) => bag.kind === kind).map(({ number }) => number)
  return { here, missing: of('find'), unusedLabels: of('label'), unexpected, twice: [...twice] }
}
