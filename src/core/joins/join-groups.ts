import type { FindRecord } from '#core/finds'
import { type Pair, pairOf } from './propose-joins.ts'

/** Finds believed to be of one object: all that accepted pairs hang together. */
export interface JoinGroup {
  /** At least two, in order. */
  readonly members: readonly string[]
  readonly pairs: readonly Pair[]
}

/** The groups that accepted pairs make, in the order of their first members. Cost: nearly linear in pairs (union-find, Tarjan 1975). */
export function joinGroups(accepted: readonly Pair[]): readonly JoinGroup[] {
  const parent = new Map<string, string>()
  const rootOf = (number: string): string => {
    let at = number
    for (let up = parent.get(at); up !== undefined && up !== at; up = parent.get(at)) {
      const above = parent.get(up) ?? up
      parent.set(at, above)
      at = above
    }
    if (!parent.has(at)) parent.set(at, at)
    return at
  }
  for (const [a, b] of accepted) parent.set(rootOf(a), rootOf(b))
  const members = new Map<string, string[]>()
  for (const number of [...parent.keys()].sort()) {
    const root = rootOf(number)
    const beside = members.get(root)
    if (beside === undefined) members.set(root, [number])
    else beside.push(number)
  }
  const pairs = new Map<string, Map<string, Pair>>()
  for (const [a, b] of accepted) {
    if (a === b) continue
    const pair = pairOf(a, b)
    const ofGroup = pairs.get(rootOf(a)) ?? new Map<string, Pair>()
    pairs.set(rootOf(a), ofGroup.set(pair.join('\n'), pair))
  }
  return [...members]
    .filter(([, group]) => group.length > 1)
    .map(([root, group]) => ({ members: group, pairs: [...(pairs.get(root) ?? new Map()).values()] }))
}

export interface ObjectCounts {
  readonly finds: number
  /** Pieces in all bags. */
  readonly pieces: number
  /** Objects if only accepted joins hold: every group is one, every other piece one of its own. */
  readonly most: number
  /**
   * Objects there must have been: of each sort (object and material as written) every complete one, and one more if there
   * are fragments of that sort. Fragments of one sort might all be of one object.
   */
  readonly least: number
}

/** How many objects the finds are, between two bounds. Cost: linear. */
export function objectCounts(finds: readonly FindRecord[], groups: readonly JoinGroup[]): ObjectCounts {
  const grouped = new Set(groups.flatMap(({ members }) => members))
  const sorts = new Map<string, { whole: number; broken: boolean }>()
  let pieces = 0
  let most = groups.length
  for (const find of finds) {
    const count = find.count ?? 1
    pieces += count
    if (!grouped.has(find.number)) most += count
    const sort = `${wordKey(find.objectType)}\n${wordKey(find.materials[0] ?? null)}`
    const seen = sorts.get(sort) ?? { whole: 0, broken: false }
    if (find.completeness === 'complete' && !grouped.has(find.number)) seen.whole += count
    else seen.broken = true
    sorts.set(sort, seen)
  }
  const least = [...sorts.values()].reduce((sum, { whole, broken }) => sum + whole + (broken ? 1 : 0), 0)
  return { finds: finds.length, pieces, most, least: Math.min(least, most) }
}

const wordKey = (word: { readonly text: string; readonly term: string | null } | null): string =>
  word === null ? '' : (word.term ?? word.text.trim().toLowerCase())
