import { seededRandom } from '#core/random'
import { distinctRings } from '../distinct-rings.ts'
import { meansTakenOut } from '../ground/flatten.ts'
import { halved, type LevelSource } from '../ground/levels.ts'
import { sampleWindows } from '../ground/sample-windows.ts'
import { phaseSurrogate } from '../ground/surrogate.ts'
import { scaledWindow } from './ring-ground.ts'
import { type PlannedSearch, type RingSearch, ringsInWindow } from './ring-search.ts'

/** A run repeats. */
const seed = 20_261_125

/** Places looked at in one surrogate: on grainless ground every rounding is a peak, and a few hundred tell the rate. */
const mostPlaces = 400

/** Surrogates a search: the finest level has the most false alarms a million pixels, and the least ground in each. */
export function surrogateCount({ plan }: PlannedSearch): number {
  return plan.level === 0 ? 4 : 2
}

/** What a search finds on bare ground. */
export interface SurrogateRings {
  readonly logOdds: number[]
  /** Millions of pixels of the whole image. */
  readonly area: number
}

/** Runs a search on one surrogate of the image's own ground, the `n`-th. Cost: that of a window of 480 pixels of the level. */
export function ringsOnSurrogate(source: LevelSource, search: RingSearch, n: number): SurrogateRings {
  const { plan } = search
  const random = seededRandom(seed + 100 * plan.level + n)
  const windows = sampleWindows(source, plan.level)
  const scale = 2 ** (plan.level - plan.look)
  const window = scaledWindow(windows[n % windows.length]!, scale)
  const made = phaseSurrogate(meansTakenOut(source.read(plan.look, window), scale), random)
  const coarse = scale === 1 ? made : halved(made)
  const { columns, rows } = coarse
  const bare: LevelSource = {
    columns: made.columns * 2 ** plan.look,
    rows: made.rows * 2 ** plan.look,
    read: (level) => (level === plan.look ? made : coarse),
  }
  const found = ringsInWindow(bare, search, { left: 0, top: 0, columns, rows }, mostPlaces)
  // A fit may end beyond the sizes of its level; the next level finds such a ring as well, and it must not count twice.
  const [least, largest] = [2 * plan.radii[0]! * 2 ** plan.level, 2 * plan.radii.at(-1)! * 2 ** plan.level]
  const own = distinctRings(found).filter(({ diameter }) => diameter >= least && diameter <= largest)
  return {
    logOdds: own.map((ring) => ring.logOdds),
    area: (columns * rows * 4 ** plan.level) / 1e6,
  }
}
