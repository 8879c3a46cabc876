import type { PlanarGrid } from '#core/geodesy'
import { thinLine } from '#core/geometry'
import { handheldNames, type LanePlan, type NameLimits } from '#core/lanes'
import { projected } from './projecting.ts'

/** Corners that stand out by less than this are not for a handheld: positions in files are good to a millimetre, receivers to metres. */
const cornerM = 0.01
/** Lanes with more corners are spirals, whose chords lie that far apart anyway. */
const mostThinned = 500

/** Interleaved pairs of one lane, without corners that hardly stand out. */
export function cornersOf(plan: LanePlan, lane: number): Float64Array {
  const xy = plan.xy.slice(2 * plan.start[lane]!, 2 * plan.start[lane + 1]!)
  return xy.length <= 2 * mostThinned ? thinLine(xy, cornerM) : xy
}

/** A straight line of the grid bends on the globe: 2.6 cm in a kilometre going east at 53 degrees, with the square of the length. */
const longestLegM = 500

/** Pairs of the grid as longitude and latitude, with places added to long legs so that these stay straight within a centimetre. */
export function onEarth(xy: ArrayLike<number>, grid: PlanarGrid): Float64Array {
  const out = [xy[0]!, xy[1]!]
  for (let i = 2; i + 1 < xy.length; i += 2) {
    const [dx, dy] = [xy[i]! - xy[i - 2]!, xy[i + 1]! - xy[i - 1]!]
    const legs = Math.ceil(Math.sqrt(dx * dx + dy * dy) / longestLegM)
    for (let k = 1; k < legs; k++) out.push(xy[i - 2]! + (k / legs) * dx, xy[i - 1]! + (k / legs) * dy)
    out.push(xy[i]!, xy[i + 1]!)
  }
  return projected(Float64Array.from(out), grid.inverse)
}

const letterOf = (walker: number): string =>
  walker < 26 ? String.fromCharCode(65 + walker) : `${walker + 1}-`

/** What a lane is called by: whose it is, counted from 0, and its number in that walk, counted from 1. */
interface LanePlace {
  readonly walker: number
  readonly number: number
}

/** Names of lanes by their numbers, after the letter of their walker where there are several; 'Lane' before where there is room. */
export function laneNames(lanes: readonly LanePlace[], walkers: number, limits: NameLimits): string[] {
  const figures = String(lanes.length).length
  const short = lanes.map(
    ({ number, walker }) => `${walkers > 1 ? letterOf(walker) : ''}${String(number).padStart(figures, '0')}`,
  )
  const roomy = short.every((name) => `Lane ${name}`.length <= limits.length)
  return handheldNames(roomy ? short.map((name) => `Lane ${name}`) : short, limits)
}

/** Names of whole walks, by their walkers counted from 0. */
export function walkNames(walkerOf: readonly number[], walkers: number, limits: NameLimits): string[] {
  return handheldNames(
    walkerOf.map((walker) => (walkers > 1 ? `Walk ${letterOf(walker)}` : 'Walk')),
    limits,
  )
}
