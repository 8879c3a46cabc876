import { seededRandom } from '#core/random'
import type { RingSettings } from '../candidate.ts'
import { distinctRings } from '../distinct-rings.ts'
import { falseAlarmCurve, falseAlarmsPerMpx } from '../ground/false-alarms.ts'
import { flatten } from '../ground/flatten.ts'
import { quickLengthWithin } from '../ground/fourier.ts'
import { type LevelSource, levelsOf, sizeAt } from '../ground/levels.ts'
import { phaseSurrogate } from '../ground/surrogate.ts'
import { evenWindows, usualLimit, type WindowLimit } from '../ground/window-parts.ts'
import { type PartJob, partJobs } from '../search-in-parts.ts'
import { leastSpreadAt } from './pit-ground.ts'
import { leastContrast, type PitPeak, pitPeaks } from './pit-peaks.ts'
import type { PitSearch } from './pit-plan.ts'

/** Something that may be a pit: a round blob. It is a question until a person accepts it. */
export interface PitCandidate extends PitPeak {
  /** How many so good or better the grain of this image alone gives, a million pixels. */
  readonly falseAlarmsPerMpx: number
}

interface RankedPeak extends PitPeak {
  readonly logOdds: number
}

export type PitJobResult =
  /** Pixels of the whole image. */
  | { readonly search: number; readonly peaks: readonly RankedPeak[] }
  /** Log odds of what bare ground gave, and how much of it there was, millions of pixels of the whole image. */
  | { readonly search: number; readonly bare: readonly number[]; readonly area: number }

/** Everything to be done for the searches of an image. However it is parted, the same pits come of it. */
export function pitJobs(
  source: Pick<LevelSource, 'columns' | 'rows'>,
  searches: readonly PitSearch[],
  limit: WindowLimit = usualLimit,
): PartJob[] {
  return searches.flatMap(({ level }, i) =>
    partJobs(i, evenWindows(sizeAt(source, level), limit), surrogates),
  )
}

/** Does a job of a search, on ground whose least spread is `leastSpreadAt`; nothing comes of ground where that is 0. */
export function doPitJob(
  source: LevelSource,
  search: PitSearch,
  leastSpread: number,
  job: PartJob,
): PitJobResult {
  if (!('window' in job)) return { search: job.search, ...pitsOnSurrogate(source, search, job.surrogate) }
  if (leastSpread === 0) return { search: job.search, peaks: [] }
  const scale = 2 ** search.level
  const peaks = pitPeaks(source, search, leastSpread, job.window).map((peak) => {
    const { x, y, diameter } = peak
    return { ...ranked(peak), x: x * scale, y: y * scale, diameter: diameter * scale }
  })
  return { search: job.search, peaks }
}

/** Peaks of a normal field thin out as exp(-c^2 / 2), so in this they do exponentially, as the fitted tail asks. */
const oddsOf = (contrast: number): number => (contrast * contrast) / 2
const ranked = (peak: PitPeak): RankedPeak => ({ ...peak, logOdds: oddsOf(peak.contrast) })

/** A run repeats. */
const seed = 20_261_126
const surrogates = 6
const widestWindow = 480

/** What a search finds on ground that has the grain of the image and nothing else of it, the `n`-th. */
function pitsOnSurrogate(
  source: LevelSource,
  search: PitSearch,
  n: number,
): { readonly bare: number[]; readonly area: number } {
  const { level } = search
  const whole = sizeAt(source, level)
  const columns = quickLengthWithin(Math.min(widestWindow, whole.columns))
  const rows = quickLengthWithin(Math.min(widestWindow, whole.rows))
  const area = (columns * rows * 4 ** level) / 1e6
  // Along a diagonal and its counterpart, so that more than one field is seen.
  const share = n / (surrogates - 1)
  const left = Math.floor((whole.columns - columns) * share)
  const top = Math.floor((whole.rows - rows) * (n % 2 === 0 ? share : 1 - share))
  const ground = source.read(level, { left, top, columns, rows })
  const least = leastSpreadAt(levelsOf(ground, 0), 0)
  if (least === 0) return { bare: [], area }
  const made = phaseSurrogate(flatten(ground, least), seededRandom(seed + 100 * level + n))
  const grain = levelsOf(made, 0)
  const all = { left: 0, top: 0, columns, rows }
  const peaks = pitPeaks(grain, { ...search, level: 0 }, leastSpreadAt(grain, 0), all)
  return { bare: distinctRings(peaks.map(ranked)).map(({ logOdds }) => logOdds), area }
}

/** A blob may settle this much beyond the range that was asked for. */
const slack = 1.1

/** Candidates of all jobs, in whatever order they were done; best first. */
export function joinPitJobs(
  results: readonly PitJobResult[],
  { minDiameterPx, maxDiameterPx, most }: RingSettings,
): PitCandidate[] {
  const peaks = results.flatMap((result) => ('peaks' in result ? result.peaks : []))
  // Every level is one more chance of a false alarm.
  const curves = [...new Set(results.map(({ search }) => search))].map((search) => {
    const bare = results.flatMap((each) => ('bare' in each && each.search === search ? [each] : []))
    const area = bare.reduce((sum, each) => sum + each.area, 0)
    return falseAlarmCurve(
      bare.flatMap((each) => each.bare),
      area,
      oddsOf(leastContrast),
    )
  })
  return distinctRings(peaks)
    .filter(({ diameter }) => diameter >= minDiameterPx / slack && diameter <= maxDiameterPx * slack)
    .slice(0, most)
    .map(({ logOdds, ...peak }) => ({
      ...peak,
      falseAlarmsPerMpx: curves.reduce((sum, curve) => sum + falseAlarmsPerMpx(curve, logOdds), 0),
    }))
}
