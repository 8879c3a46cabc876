import type { JoinGroup } from './join-groups.ts'

/** Two joined pieces and how they lie to each other. */
export interface JoinLine {
  readonly from: string
  readonly to: string
  readonly distanceM: number
  /** Degrees from grid north, clockwise, of `to` seen from `from`; null for pieces at one spot. */
  readonly bearing: number | null
}

export interface JoinScatter {
  /** A line for every accepted pair of which both places are known. */
  readonly lines: readonly JoinLine[]
  readonly meanM: number | null
  readonly medianM: number | null
  readonly longestM: number | null
  /** Points before and after each group is drawn together to one. */
  readonly points: number
  readonly objects: number
  /** Standard distance (root mean square distance from the mean centre) of points before, and of objects after. */
  readonly standardDistanceM: number | null
  readonly standardDistanceOfObjectsM: number | null
}

export interface PlacedNumber {
  readonly number: string
  readonly x: number
  readonly y: number
}

/**
 * What accepted joins do to a scatter: how far joined pieces lie apart, and the scatter with each group at the mean of its
 * pieces. One broken object looks like a cluster; drawn together it is one point. Positions planar, metres.
 *
 * Source  standard distance: Bachi 1963, "Standard distance measures and related methods for spatial analysis".
 * Cost    linear.
 */
export function joinScatter(places: readonly PlacedNumber[], groups: readonly JoinGroup[]): JoinScatter {
  const at = new Map(places.map((place) => [place.number, place]))
  const lines = groups.flatMap(({ pairs }) =>
    pairs.flatMap(([from, to]) => {
      const [a, b] = [at.get(from), at.get(to)]
      return a === undefined || b === undefined ? [] : [lineBetween(a, b)]
    }),
  )
  const objects = togetherOf(places, groups)
  const lengths = lines.map(({ distanceM }) => distanceM).sort((a, b) => a - b)
  const middle = lengths.length >> 1
  const median = lengths.length % 2 === 1 ? lengths[middle]! : (lengths[middle - 1]! + lengths[middle]!) / 2
  const some = lengths.length > 0
  return {
    lines,
    meanM: some ? lengths.reduce((sum, length) => sum + length, 0) / lengths.length : null,
    medianM: some ? median : null,
    longestM: lengths.at(-1) ?? null,
    points: places.length,
    objects: objects.length,
    standardDistanceM: standardDistance(places),
    standardDistanceOfObjectsM: standardDistance(objects),
  }
}

/** Points with each group drawn together to the mean of its pieces, under the number of its first placed member. */
export function togetherOf(
  places: readonly PlacedNumber[],
  groups: readonly JoinGroup[],
): readonly PlacedNumber[] {
  const groupOf = new Map(
    groups.flatMap(({ members }, g) => members.map((number): [string, number] => [number, g])),
  )
  const drawn = new Map<number, { number: string; x: number; y: number; count: number }>()
  const result: { readonly number: string; x: number; y: number }[] = []
  for (const place of places) {
    const group = groupOf.get(place.number)
    if (group === undefined) {
      result.push({ ...place })
      continue
    }
    const sum = drawn.get(group)
    if (sum === undefined) {
      const first = { ...place, count: 1 }
      drawn.set(group, first)
      result.push(first)
    } else {
      sum.count++
      sum.x += (place.x - sum.x) / sum.count
      sum.y += (place.y - sum.y) / sum.count
    }
  }
  return result.map(({ number, x, y }) => ({ number, x, y }))
}

function lineBetween(a: PlacedNumber, b: PlacedNumber): JoinLine {
  const [dx, dy] = [b.x - a.x, b.y - a.y]
  const distanceM = Math.hypot(dx, dy)
  const degrees = (Math.atan2(dx, dy) * 180) / Math.PI
  return { from: a.number, to: b.number, distanceM, bearing: distanceM === 0 ? null : (degrees + 360) % 360 }
}

function standardDistance(places: readonly PlacedNumber[]): number | null {
  if (places.length === 0) return null
  const mean = (of: (place: PlacedNumber) => number): number =>
    places.reduce((sum, place) => sum + of(place), 0) / places.length
  const [x, y] = [mean((place) => place.x), mean((place) => place.y)]
  return Math.sqrt(mean((place) => (place.x - x) ** 2 + (place.y - y) ** 2))
}
