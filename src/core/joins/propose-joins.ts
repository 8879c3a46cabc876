import type { Vocabulary } from '#core/finds'
import type { Fragment } from './fragment.ts'
import {
  type Comparing,
  cannotJoin,
  grounds,
  groundWeights,
  type Likeness,
  likenessOn,
  likenessText,
  materialComparer,
} from './likeness.ts'

/** Two numbers, the smaller first. */
export type Pair = readonly [string, string]

export interface JoinProposal {
  readonly pair: Pair
  /** 0 to 1. A ground that nothing is known of counts as a half, so that little knowledge gives a middling score. */
  readonly score: number
  readonly distanceM: number
  readonly reasons: readonly Likeness[]
}

export interface ProposeOptions {
  readonly materials: Vocabulary
  /** How far pieces of one object commonly lie apart, metres. */
  readonly spreadM: number
  /** Pairs farther apart are not looked at. */
  readonly farthestM: number
  /** Pairs below it are left out. */
  readonly leastScore: number
  readonly most: number
  /** Pairs already accepted or refused. */
  readonly decided: readonly Pair[]
}

/** A pair in its one order, so that (a, b) and (b, a) are the same. */
export function pairOf(a: string, b: string): Pair {
  return a <= b ? [a, b] : [b, a]
}

const keyOf = ([a, b]: Pair): string => `${a}\n${b}`
const allWeights = Object.values(groundWeights).reduce((sum, weight) => sum + weight, 0)

/**
 * Pairs of fragments that may be of one object, best first, each with its reasons. Only pairs within `farthestM` are
 * weighed; pairs of different materials or dates that do not meet are left out. The score is a ranking, not a chance:
 * someone lays the pieces together and decides.
 *
 * Method  weighted mean of likenesses; docs/methods/finds.md#joins.
 * Cost    linear in fragments plus the pairs within `farthestM`.
 * Faults  RangeError unless spread and farthest are above zero.
 */
export function proposeJoins(
  fragments: readonly Fragment[],
  options: ProposeOptions,
): readonly JoinProposal[] {
  const { materials, spreadM, farthestM, leastScore, most } = options
  if (!(spreadM > 0 && farthestM > 0)) throw new RangeError(`spread ${spreadM} m, farthest ${farthestM} m`)
  const comparing: Comparing = { spreadM, materialLikeness: materialComparer(materials) }
  const decided = new Set(options.decided.map((pair) => keyOf(pairOf(...pair))))
  let found: Scored[] = []
  let floor = leastScore
  for (const [i, j] of nearPairs(fragments, farthestM)) {
    const [a, b] = [fragments[i]!, fragments[j]!]
    const score = scoreOf(a, b, comparing)
    if (score < floor || cannotJoin(a, b, comparing)) continue
    const pair = pairOf(a.number, b.number)
    if (decided.has(keyOf(pair))) continue
    found.push({ score, pair, a, b })
    if (found.length > 4 * most + 1000) {
      found = best(found, most)
      floor = found.at(-1)?.score ?? leastScore
    }
  }
  return best(found, most).map(({ score, pair, a, b }) => ({
    pair,
    score,
    distanceM: Math.hypot(a.x - b.x, a.y - b.y),
    reasons: grounds.flatMap((ground) => {
      const likeness = likenessOn(ground, a, b, comparing)
      return likeness === null ? [] : [{ ground, likeness, text: likenessText(ground, a, b) }]
    }),
  }))
}

interface Scored {
  readonly score: number
  readonly pair: Pair
  readonly a: Fragment
  readonly b: Fragment
}

function best(found: readonly Scored[], most: number): Scored[] {
  const order = (a: Scored, b: Scored): number =>
    b.score - a.score || (keyOf(a.pair) < keyOf(b.pair) ? -1 : 1)
  return found.toSorted(order).slice(0, most)
}

function scoreOf(a: Fragment, b: Fragment, comparing: Comparing): number {
  let sum = 0
  for (const ground of grounds) sum += groundWeights[ground] * (likenessOn(ground, a, b, comparing) ?? 0.5)
  return sum / allWeights
}

/** Index pairs no farther apart than `reach`, by cells of that side: a pair lies in one cell or in two that touch. */
function* nearPairs(fragments: readonly Fragment[], reach: number): Generator<readonly [number, number]> {
  const cells = new Map<string, number[]>()
  const cellOf = ({ x, y }: Fragment): readonly [number, number] => [
    Math.floor(x / reach),
    Math.floor(y / reach),
  ]
  for (const [j, fragment] of fragments.entries()) {
    const [column, row] = cellOf(fragment)
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (const i of cells.get(`${column + dx},${row + dy}`) ?? []) {
          const other = fragments[i]!
          if ((other.x - fragment.x) ** 2 + (other.y - fragment.y) ** 2 <= reach * reach) yield [i, j]
        }
      }
    }
    const own = cells.get(`${column},${row}`)
    if (own === undefined) cells.set(`${column},${row}`, [j])
    else own.push(j)
  }
}
