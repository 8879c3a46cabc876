import { lineDirections } from './line-directions.ts'
import { at, type LinePoints, pointStride } from './line-points.ts'
import { type PointGrid, pointGrid } from './point-grid.ts'

/** Indices of points in the order in which a line runs through them. */
export type Chain = readonly number[]

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
  const used = new Uint8Array(count)
  const seeds: number[] = []
  for (let i = 0; i < count; i++) if (points[i * pointStride + at.strength]! >= seedStrength) seeds.push(i)
  seeds.sort((a, b) => points[b * pointStride + at.strength]! - points[a * pointStride + at.strength]!)
  const chains: Chain[] = []
  for (const seed of seeds) {
    if (used[seed] === 1) continue
    take(points, grid, used, seed)
    const { cos, sin } = directionOf(points, seed)
    const forth = walk({ points, grid, used }, seed, cos, sin)
    const back = walk({ points, grid, used }, seed, -cos, -sin)
    const chain = [...back.reverse(), seed, ...forth]
    if (chain.length >= leastPoints) chains.push(chain)
  }
  return chains
}

function directionOf(points: LinePoints, i: number): { cos: number; sin: number } {
  return lineDirections[points[i * pointStride + at.direction]!]!
}

/** Marks a point, and those beside it that are the same line. */
function take(points: LinePoints, grid: PointGrid, used: Uint8Array, point: number): void {
  used[point] = 1
  const [x, y] = [points[point * pointStride + at.x]!, points[point * pointStride + at.y]!]
  const { cos, sin } = directionOf(points, point)
  grid.near(x, y, besideReach, (other) => {
    if (used[other] === 1) return
    const [dx, dy] = [points[other * pointStride + at.x]! - x, points[other * pointStride + at.y]! - y]
    const along = Math.abs(dx * cos + dy * sin)
    const across = Math.abs(dy * cos - dx * sin)
    const way = directionOf(points, other)
    if (along < 0.6 && across < besideReach && Math.abs(way.cos * cos + way.sin * sin) > sameWay)
      used[other] = 1
  })
}

interface Ground {
  readonly points: LinePoints
  readonly grid: PointGrid
  readonly used: Uint8Array
}

/** Points one after another from a point on in a direction, as long as the next lies ahead and runs the same way. */
function walk({ points, grid, used }: Ground, from: number, startCos: number, startSin: number): number[] {
  const chain: number[] = []
  let [current, cos, sin] = [from, startCos, startSin]
  for (;;) {
    const [x, y] = [points[current * pointStride + at.x]!, points[current * pointStride + at.y]!]
    let next = -1
    let least = Infinity
    grid.near(x + cos * 1.5, y + sin * 1.5, stepReach, (other) => {
      if (used[other] === 1) return
      const [dx, dy] = [points[other * pointStride + at.x]! - x, points[other * pointStride + at.y]! - y]
      const along = dx * cos + dy * sin
      const across = Math.abs(dy * cos - dx * sin)
      if (along < 0.4 || along > stepReach || across > 0.4 + 0.45 * along) return
      const way = directionOf(points, other)
      if (Math.abs(way.cos * cos + way.sin * sin) < sameWay) return
      const cost = along + 2 * across - 0.25 * Math.min(8, points[other * pointStride + at.strength]!)
      if (cost < least) [least, next] = [cost, other]
    })
    if (next < 0) return chain
    chain.push(next)
    take(points, grid, used, next)
    const way = directionOf(points, next)
    const sense = way.cos * cos + way.sin * sin < 0 ? -1 : 1
    const [c, s] = [0.6 * cos + 0.4 * sense * way.cos, 0.6 * sin + 0.4 * sense * way.sin]
    const length = Math.hypot(c, s)
    ;[cos, sin, current] = [c / length, s / length, next]
  }
}
