import type { Pair } from './propose-joins.ts'
import { pairOf } from './propose-joins.ts'

/** A find to be joined with others, and where it lay: planar metres, null where that is not known. */
export interface FindToJoin {
  readonly number: string
  readonly place: readonly [x: number, y: number] | null
}

const farAway = Number.MAX_VALUE

function apart(a: FindToJoin, b: FindToJoin): number {
  return a.place && b.place ? Math.hypot(a.place[0] - b.place[0], a.place[1] - b.place[1]) : farAway
}

/**
 * The pairs that make some finds one group, as near to one another as can be: a shortest tree over their places (Prim 1957). Pairs that are joined
 * already cost nothing, so none is asked for that is not needed. Finds without a place come last. Cost: the square of the finds.
 *
 * @example joiningPairs([{ number: 'A', place: [0, 0] }, { number: 'B', place: [9, 0] }, { number: 'C', place: [1, 0] }], []) // A with C, C with B
 */
export function joiningPairs(finds: readonly FindToJoin[], joined: readonly Pair[]): readonly Pair[] {
  const there = new Set(joined.map(([a, b]) => pairOf(a, b).join('\n')))
  const [first, ...others] = finds
  if (first === undefined) return []
  const pairs: Pair[] = []
  const left = new Map(others.map((find) => [find, { to: first, far: Number.POSITIVE_INFINITY }]))
  let last = first
  while (left.size > 0) {
    let next: FindToJoin | null = null
    for (const [find, near] of left) {
      const known = there.has(pairOf(find.number, last.number).join('\n'))
      const far = known ? -1 : apart(find, last)
      if (far < near.far) Object.assign(near, { to: last, far })
      if (next === null || near.far < left.get(next)!.far) next = find
    }
    const { to, far } = left.get(next!)!
    left.delete(next!)
    if (far >= 0) pairs.push(pairOf(to.number, next!.number))
    last = next!
  }
  return pairs
}
