import { seededRandom } from '#core/random'
import type { Raster } from '../candidate.ts'
import { distinctRings } from '../distinct-rings.ts'
import { meanSize, meansTakenOut } from '../ground/flatten.ts'
import { quickLengthWithin } from '../ground/fourier.ts'
import { halved, type LevelSource, type LevelWindow, sizeAt } from '../ground/levels.ts'
import { sampleWindows } from '../ground/sample-windows.ts'
import { phaseSurrogatePair } from '../ground/surrogate.ts'
import { groundBlocks, scaledWindow } from './ring-ground.ts'
import { type PlannedSearch, type RingSearch, ringsInWindow } from './ring-search.ts'

/** A run repeats. */
const seed = 20_261_125

/** Places looked at in one surrogate: on grainless ground every rounding is a peak, and a few hundred tell the rate. */
const mostPlaces = 300

/** Pairs of surrogates of a search: the finest level has the least ground in each. */
export function surrogateCount({ plan }: PlannedSearch): number {
  return plan.level === 0 ? 2 : 1
}

/** Side of a surrogate at most, pixels of the level; with the reach of the widest kernel a power of two across. A coarser pixel is more ground. */
const sideAt = (level: number): number => (level < 2 ? 480 : 240)

/** Candidates so near to the edge of a surrogate, pixels of the level, do not count: beyond it nothing is known. */
const marginOf = ({ columns, rows }: Raster): number => Math.min(16, Math.min(columns, rows) >> 3)

/** What a search finds on bare ground. */
export interface SurrogateRings {
  readonly logOdds: number[]
  /** Millions of pixels of the whole image. */
  readonly area: number
}

/** Runs a search on a pair of surrogates of the image's own ground, the `n`-th. Cost: that of two windows of 480 pixels of the level at most. */
export function ringsOnSurrogates(source: LevelSource, search: RingSearch, n: number): SurrogateRings {
  const { level, look } = search.plan
  const random = seededRandom(seed + 100 * level + n)
  const scale = 2 ** (level - look)
  const windows = surrogateWindows(source, search)
  const [first, second] = [0, 1].map((i) => {
    const window = windows[(2 * n + i) % windows.length]!
    return evenGround(source.read(look, scaledWindow(window, scale)), scale, search.ground.leastSpread)
  }) as [EvenGround, EvenGround]
  const pair = phaseSurrogatePair(first.raster, second.raster, random)
  const found = [first, second].map(({ raster: ground, strength }, i) => {
    const { columns, rows, values } = pair[i]!
    // Where the image has no data its surrogate has none.
    const bare = values.map((value, k) =>
      Number.isNaN(ground.values[k]!) ? Number.NaN : value * strength[k]!,
    )
    return ringsOnBareGround({ columns, rows, values: bare }, search)
  })
  return {
    logOdds: found.flatMap(({ logOdds }) => logOdds),
    area: found.reduce((sum, { area }) => sum + area, 0),
  }
}

function surrogateWindows(source: LevelSource, search: RingSearch): LevelWindow[] {
  const { level } = search.plan
  const { columns, rows } = sizeAt(source, level)
  const wide = quickLengthWithin(Math.min(sideAt(level), columns))
  const tall = quickLengthWithin(Math.min(sideAt(level), rows))
  const found = sampleWindows(source, level, { wide, tall, most: 2 * surrogateCount(search) })
  if (found.length > 0) return found
  // Of an image nearly empty: about the blocks that its ground was measured on, for those have data.
  return sampleWindows(source, level, groundBlocks).map((block) => ({
    left: block.left + ((block.columns - wide) >> 1),
    top: block.top + ((block.rows - tall) >> 1),
    columns: wide,
    rows: tall,
  }))
}

/** Pixels with data, but for the margin; one at least. */
function knownIn(raster: Raster): number {
  const { columns, rows, values } = raster
  const margin = marginOf(raster)
  let count = 0
  for (let row = margin; row < rows - margin; row++)
    for (let column = margin; column < columns - margin; column++)
      if (!Number.isNaN(values[row * columns + column]!)) count++
  return Math.max(1, count)
}

interface EvenGround {
  /** Grain of one strength everywhere, without broad light and dark. */
  readonly raster: Raster
  /** How strong the grain was at each pixel. */
  readonly strength: Float32Array
}

/** Half the side of the square over which the strength of grain is taken, pixels of the level: about a ring. */
const strengthHalf = 11

/** How much broader than what flattening takes out is what is taken out here: taking the same out twice would leave less grain than the image has. */
const broader = 3

/**
 * Ground parted into grain of one strength and that strength: phases drawn anew spread what a window holds evenly over it, so the strength is taken off before and
 * put on after, and rough and smooth fields stay where they are.
 */
function evenGround(raster: Raster, scale: number, leastSpread: number): EvenGround {
  const strength = meanSize(meansTakenOut(raster, scale), strengthHalf * scale)
  for (let i = 0; i < strength.length; i++) strength[i] = Math.max(leastSpread, strength[i]!)
  const { columns, rows, values } = meansTakenOut(raster, broader * scale)
  return { raster: { columns, rows, values: values.map((value, i) => value / strength[i]!) }, strength }
}

/** What a search finds on ground of the scale that it looks at. */
function ringsOnBareGround(made: Raster, search: RingSearch): SurrogateRings {
  const { level, look, radii } = search.plan
  const coarse = level === look ? made : halved(made)
  const bare: LevelSource = {
    columns: made.columns * 2 ** look,
    rows: made.rows * 2 ** look,
    read: (at) => (at === look ? made : coarse),
  }
  const margin = marginOf(coarse)
  const inner = {
    left: margin,
    top: margin,
    columns: coarse.columns - 2 * margin,
    rows: coarse.rows - 2 * margin,
  }
  const found = ringsInWindow(bare, search, inner, mostPlaces)
  // A fit may end beyond the sizes of its level; the next level finds such a ring as well, and it must not count twice.
  const [least, largest] = [2 * radii[0]! * 2 ** level, 2 * radii.at(-1)! * 2 ** level]
  const own = distinctRings(found).filter(({ diameter }) => diameter >= least && diameter <= largest)
  return { logOdds: own.map((ring) => ring.logOdds), area: (knownIn(coarse) * 4 ** level) / 1e6 }
}
