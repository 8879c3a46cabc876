import { seededRandom } from '#core/random'
import type { Raster, Tone } from '../candidate.ts'
import { meansTakenOut } from '../ground/flatten.ts'
import { type LevelSource, type LevelWindow, sizeAt, windowOf } from '../ground/levels.ts'
import { leastSpreadOf, sampleWindows } from '../ground/sample-windows.ts'
import { phaseSurrogate } from '../ground/surrogate.ts'
import type { LineSettings } from './line-candidate.ts'
import { type TracedPoints, tracedChains } from './line-chains.ts'
import { linePlan } from './line-plan.ts'
import { type LinePoints, linePoints } from './line-points.ts'

/** One sort of search over an image. */
export interface LineSearch {
  readonly level: number
  readonly tones: readonly Tone[]
}

/** Points of one tone. */
export interface TonePoints {
  readonly tone: Tone
  readonly points: LinePoints
}

/** Searches for lines of a range of widths. Faults: those of `linePlan`. */
export function lineSearches(settings: LineSettings): LineSearch[] {
  const tones: Tone[] = settings.tone === 'either' ? ['dark', 'light'] : [settings.tone]
  return linePlan(settings).map((level) => ({ level, tones }))
}

/** How fine the grain of an image may be taken to be at the level of a search; null where that is flat or without data. */
export function lineGround(source: LevelSource, { level }: LineSearch): number | null {
  return leastSpreadOf(sampleWindows(source, level).map((window) => source.read(level, window)))
}

export function pointsInWindow(
  source: LevelSource,
  { level, tones }: LineSearch,
  leastSpread: number,
  window: LevelWindow,
): TonePoints[] {
  return linePoints(source, level, window, { leastSpread, tones })
}

/** A run repeats. */
const seed = 20_261_128

/** Surrogates a search, of 480 x 480 pixels: the finest level has the least ground in each, and a small image needs no more than four times its own. */
export function lineSurrogateCount(
  source: Pick<LevelSource, 'columns' | 'rows'>,
  { level }: LineSearch,
): number {
  const { columns, rows } = sizeAt(source, level)
  return Math.min(level === 0 ? 4 : 2, Math.ceil((4 * columns * rows) / 480 ** 2))
}

/** What a search finds on bare ground. */
export interface BarePoints {
  readonly found: readonly (TonePoints & TracedPoints)[]
  /** Millions of pixels of the whole image. */
  readonly area: number
}

/** Runs a search on the `n`-th surrogate of the image's own ground. Cost: that of a window of 480 pixels of the level. */
export function pointsOnSurrogate(
  source: LevelSource,
  search: LineSearch,
  leastSpread: number,
  n: number,
): BarePoints {
  const { level } = search
  const windows = sampleWindows(source, level)
  const window = windows[n % windows.length]!
  const random = seededRandom(seed + 100 * level + n)
  const made: Raster = phaseSurrogate(meansTakenOut(source.read(level, window), 1), random)
  const { columns, rows } = made
  const scale = 2 ** level
  const bare: LevelSource = {
    columns: columns * scale,
    rows: rows * scale,
    read: (_, part) => windowOf(made, part),
  }
  return {
    found: pointsInWindow(bare, search, leastSpread, { left: 0, top: 0, columns, rows }).map(
      ({ tone, points }) => ({ tone, points, chains: tracedChains(points) }),
    ),
    area: (columns * rows * scale * scale) / 1e6,
  }
}
