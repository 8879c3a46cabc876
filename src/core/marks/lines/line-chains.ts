import { lineDirections } from './line-directions.ts'
import { at, type LinePoints, pointStride } from './line-points.ts'
import { type PointGrid, pointGrid } from './point-grid.ts'

/** Indices of points in the order in which a line runs through them. */
export type Chain = readonly number[]

/** Points with the chains through them. */
export interface TracedPoints {
  readonly points: LinePoints
  readonly chains: readonly Chain[]
}

/** A chain starts at a point of this strength or more, and goes on through weaker ones: hysteresis, after Canny 1986 (IEEE PAMI 8, 679 to 698). */
const seedStrength = 2.8
/** How far the next point of a chain may lie, pixels. */
const stepReach = 3
/** Points this near beside a chain, running the same way, are the same line. */
const besideReach = 1.8
const sameWay = Math.cos(Math.PI / 6)
const leastPoints = 5

/** Joins points to chains, strongest first. The order of points does not matter, save between equally strong ones. */
export function tracedChains(points: LinePoints): Chain[] {
  const grid = pointGrid(points)
  const count = points.length / pointStride
  const ground: Ground = { points, grid, used: new Uint8Array(count) }
  const chains: Chain[] = []
  for (const seed of strongestFirst(points)) {
    if (ground.used[seed] === 1) continue
    take(ground, seed)
    const direction = points[seed * pointStride + at.direction]!
    const forth = walk(ground, seed, cosOf[direction]!, sinOf[direction]!)
    const back = walk(ground, seed, -cosOf[direction]!, -sinOf[direction]!)
    back.reverse().push(seed, ...forth)
    if (back.length >= leastPoints) chains.push(back)
  }
  return chains
}

const cosOf = Float64Array.from(lineDirections, ({ cos }) => cos)
const sinOf = Float64Array.from(lineDirections, ({ sin }) => sin)

/** Points that a chain may start at. */
function strongestFirst(points: LinePoints): Int32Array {
  const count = points.length / pointStride
  const seeds: number[] = []
  for (let i = 0; i < count; i++) if (points[i * pointStride + at.strength]! >= seedStrength) seeds.push(i)
  return Int32Array.from(seeds).sort(
    (a, b) => points[b * pointStride + at.strength]! - points[a * pointStride + at.strength]! || a - b,
  )
}

interface Ground {
  readonly points: LinePoints
  readonly grid: PointGrid
  readonly used: Uint8Array
}

/** Marks a point, and those beside it that are the same line. */
function take({ points, grid, used }: Ground, point: number): void {
  used[point] = 1
  const base = point * pointStride
  const [x, y] = [points[base + at.x]!, points[base + at.y]!]
  const cos = cosOf[points[base + at.direction]!]!
  const sin = sinOf[points[base + at.direction]!]!
  const count = grid.near(x, y, besideReach)
  for (let n = 0; n < count; n++) {
    const other = grid.found[n]!
    if (used[other] === 1) continue
    const i = other * pointStride
    const [dx, dy] = [points[i + at.x]! - x, points[i + at.y]! - y]
    if (Math.abs(dx * cos + dy * sin) >= 0.6 || Math.abs(dy * cos - dx * sin) >= besideReach) continue
    const direction = points[i + at.direction]!
    if (Math.abs(cosOf[direction]! * cos + sinOf[direction]! * sin) > sameWay) used[other] = 1
  }
}

/** Points one after another from a point on in a direction, as long as the next lies ahead and runs the same way. */
function walk(ground: Ground, from: number, startCos: number, startSin: number): number[] {
  const { points } = ground
  const chain: number[] = []
  let [current, cos, sin] = [from, startCos, startSin]
  for (;;) {
    const next = nextPoint(ground, current, cos, sin)
    if (next < 0) return chain
    chain.push(next)
    take(ground, next)
    const direction = points[next * pointStride + at.direction]!
    const [wayCos, waySin] = [cosOf[direction]!, sinOf[direction]!]
    const sense = wayCos * cos + waySin * sin < 0 ? -1 : 1
    const [c, s] = [0.6 * cos + 0.4 * sense * wayCos, 0.6 * sin + 0.4 * sense * waySin]
    const length = Math.hypot(c, s)
    ;[cos, sin, current] = [c / length, s / length, next]
  }
}

/** The best point to go on to; -1 where there is none. */
function nextPoint({ points, grid, used }: Ground, current: number, cos: number, sin: number): number {
  const [x, y] = [points[current * pointStride + at.x]!, points[current * pointStride + at.y]!]
  let [next, least] = [-1, Infinity]
  const count = grid.near(x + cos * 1.5, y + sin * 1.5, stepReach)
  for (let n = 0; n < count; n++) {
    const other = grid.found[n]!
    if (used[other] === 1) continue
    const i = other * pointStride
    const [dx, dy] = [points[i + at.x]! - x, points[i + at.y]! - y]
    const along = dx * cos + dy * sin
    if (along < 0.4 || along > stepReach) continue
    const across = Math.abs(dy * cos - dx * sin)
    if (across > 0.4 + 0.45 * along) continue
    const direction = points[i + at.direction]!
    if (Math.abs(cosOf[direction]! * cos + sinOf[direction]! * sin) < sameWay) continue
    const cost = along + 2 * across - 0.25 * Math.min(8, points[i + at.strength]!)
    if (cost < least) [least, next] = [cost, other]
  }
  return next
}
