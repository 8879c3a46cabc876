import type { Random } from '#core/random'
import { normal } from '#core/random'
import { fieldEdge, type Place, pondEdge } from './scenario.ts'
import { edgeMargin, laneSpacing, type WalkPlan } from './walk-plan.ts'

/** A line walked on the ground, and how far along it each of its places lies, metres. */
export interface WalkPath {
  readonly places: readonly Place[]
  readonly along: readonly number[]
  readonly lengthM: number
}

/** The path of one walk: lane after lane, turned at the ends, round the pond. Lanes wander from their spacing as a walker's do. */
export function walkPath(plan: WalkPlan, random: Random): WalkPath {
  const places: Place[] = []
  const addLane = (lane: Place[]): void => {
    const backwards = addLane.count++ % 2 === 1
    places.push(...(backwards ? lane.toReversed() : lane))
  }
  addLane.count = 0
  for (const [low, high] of plan.bands) {
    for (let v = low + laneSpacing / 2; v < high; v += laneSpacing) {
      const lane = contourLane(v + 0.12 * normal(random), plan.corner)
      if (lane.length > 0) addLane(lane)
    }
  }
  if (plan.across) {
    const { low, high } = plan.across
    for (let u = low.u; u < high.u; u += laneSpacing + 0.6) {
      const at = u + 0.15 * normal(random)
      addLane([
        { u: at, v: low.v },
        { u: at, v: high.v },
      ])
    }
  }
  return measured(places)
}

/** Adds the distances along. Cost grows with the number of places. */
function measured(places: readonly Place[]): WalkPath {
  let length = 0
  const along = places.map(({ u, v }, i) => {
    const before = places[i - 1]
    if (before) length += Math.hypot(u - before.u, v - before.v)
    return length
  })
  return { places, along, lengthM: length }
}

/** One lane along the contour from west to east inside the hedge, round the pond where it lies in the way; empty off the field. */
function contourLane(v: number, corner: WalkPlan['corner']): Place[] {
  const crossings = crossingsOf(fieldEdge, v)
  if (crossings.length < 2) return []
  const west = crossings[0]! + edgeMargin
  const east = Math.min(crossings.at(-1)! - edgeMargin, corner ? cornerLimit(corner, v) : Infinity)
  if (!(east - west > 4)) return []
  return [{ u: west, v }, ...roundPond(v), { u: east, v }]
}

/** Where the line of the corner crosses a lane; no limit above its upper end. */
function cornerLimit({ from, to }: NonNullable<WalkPlan['corner']>, v: number): number {
  return v > to.v ? Infinity : from.u + ((v - from.v) * (to.u - from.u)) / (to.v - from.v)
}

/** The way round the pond for one lane, by its nearer bank, west to east; empty where the pond is not in the way. */
function roundPond(v: number): Place[] {
  const bank = pondEdge(edgeMargin)
  const crossings = crossingsOf(bank, v)
  if (crossings.length < 2) return []
  const [west, east] = [crossings[0]!, crossings.at(-1)!]
  const above = bank.filter((place) => place.v > v)
  const below = bank.filter((place) => place.v < v)
  const side = above.length < below.length ? above : below
  return [{ u: west, v }, ...side.toSorted((a, b) => a.u - b.u), { u: east, v }]
}

/** The u of every edge of a ring that crosses the line of constant v, ascending. */
export function crossingsOf(ring: readonly Place[], v: number): number[] {
  const found: number[] = []
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!
    if (a.v > v !== b.v > v) found.push(a.u + ((v - a.v) * (b.u - a.u)) / (b.v - a.v))
  })
  return found.sort((a, b) => a - b)
}

/** The place a distance along a path; its ends beyond them. Cost: a binary search. */
export function placeAlong(path: WalkPath, distance: number): Place {
  const { places, along } = path
  let low = 0
  let high = places.length - 1
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (along[middle]! <= distance) low = middle
    else high = middle
  }
  const a = places[low]!
  const b = places[high]!
  const leg = along[high]! - along[low]!
  const share = leg > 0 ? Math.min(1, Math.max(0, (distance - along[low]!) / leg)) : 0
  return { u: a.u + share * (b.u - a.u), v: a.v + share * (b.v - a.v) }
}
