import { seededRandom } from '#core/random'
import type { Raster, RingSettings, Tone } from '../candidate.ts'
import { distinctRings } from '../distinct-rings.ts'
import { type FalseAlarmCurve, falseAlarmCurve, falseAlarmsPerMpx } from '../ground/false-alarms.ts'
import { flatten } from '../ground/flatten.ts'
import { quickLength } from '../ground/fourier.ts'
import { halved, windowOf } from '../ground/levels.ts'
import { phaseSurrogate } from '../ground/surrogate.ts'
import { leastSpreadOf, type PitPeak, pitPeaks } from './pit-peaks.ts'

/** Something that may be a pit: a round blob. It is a question until a person accepts it. */
export interface PitCandidate extends PitPeak {
  /** How many so good or better the grain of this image alone gives, a million pixels. */
  readonly falseAlarmsPerMpx: number
}

/** Blobs up to this many pixels across are looked for at a level; the next one takes over at half of it. */
const widestAtLevel = 16
/** Diameter of the smallest blob that is more than a grain, pixels. */
const leastPitPx = 3
/** A blob may settle this much beyond the range that was asked for. */
const slack = 1.1

interface PitLevel {
  readonly level: number
  readonly fromPx: number
  readonly toPx: number
}

/**
 * Looks for pits (round blobs) on a raster held in memory, best first. Places are pixels from the outer corner of the upper left one.
 *
 * Method  docs/methods/marks.md; false alarms are counted on surrogates of the image's own ground, as for rings.
 * Limits  a blob nearer to the edge than about its own diameter is not found.
 * Cost    8 bytes a pixel for each third of an octave of diameters, and some 60 besides (reckoned, not measured).
 * Faults  RangeError for a range that is empty or begins below 3 pixels.
 */
export function findPits(raster: Raster, settings: RingSettings): PitCandidate[] {
  const { minDiameterPx, maxDiameterPx, tone, most } = settings
  if (!(minDiameterPx >= leastPitPx && minDiameterPx <= maxDiameterPx && Number.isFinite(maxDiameterPx)))
    throw new RangeError(`no pits of ${minDiameterPx} to ${maxDiameterPx} pixels can be looked for`)
  const tones: readonly Tone[] = tone === 'either' ? ['dark', 'light'] : [tone]
  const looked: { raster: Raster; level: PitLevel }[] = []
  const peaks: (PitPeak & { logOdds: number })[] = []
  let current = raster
  let at = 0
  for (const level of pitLevels(minDiameterPx, maxDiameterPx)) {
    for (; at < level.level; at++) current = halved(current)
    const scale = 2 ** at
    const own = pitPeaks(current, level.fromPx, level.toPx, tones)
    for (const peak of own) {
      const { x, y, diameter } = peak
      peaks.push({ ...peak, x: x * scale, y: y * scale, diameter: diameter * scale, logOdds: odds(peak) })
    }
    looked.push({ raster: current, level })
  }
  if (peaks.length === 0) return []
  // Every level is one more chance of a false alarm.
  const curves = looked.map((each) => bareCurve(each.raster, each.level, tones))
  return distinctRings(peaks)
    .filter(({ diameter }) => diameter >= minDiameterPx / slack && diameter <= maxDiameterPx * slack)
    .slice(0, most)
    .map(({ logOdds, ...peak }) => ({
      ...peak,
      falseAlarmsPerMpx: curves.reduce((sum, curve) => sum + falseAlarmsPerMpx(curve, logOdds), 0),
    }))
}

/** Peaks of a normal field thin out as exp(-c^2 / 2), so in this they do exponentially, as the fitted tail asks. */
const odds = ({ contrast }: PitPeak): number => (contrast * contrast) / 2

function pitLevels(from: number, to: number): PitLevel[] {
  const levels: PitLevel[] = []
  for (let level = 0; ; level++) {
    const scale = 2 ** level
    const fromPx = Math.max(from / scale, level === 0 ? 0 : widestAtLevel / 2)
    const toPx = Math.min(to / scale, widestAtLevel)
    if (toPx >= fromPx) levels.push({ level, fromPx, toPx })
    if (to / scale <= widestAtLevel) return levels
  }
}

/** A run repeats. */
const seed = 20_261_126
const surrogates = 6
const widestWindow = 480

/** What the same search finds on ground that has the grain of the image and nothing else of it. */
function bareCurve(
  raster: Raster,
  { level, fromPx, toPx }: PitLevel,
  tones: readonly Tone[],
): FalseAlarmCurve {
  const columns = quickAtMost(Math.min(widestWindow, raster.columns))
  const rows = quickAtMost(Math.min(widestWindow, raster.rows))
  const values: number[] = []
  for (let n = 0; n < surrogates; n++) {
    const random = seededRandom(seed + 100 * level + n)
    // Along a diagonal and its counterpart, so that more than one field is seen.
    const share = n / (surrogates - 1)
    const left = Math.floor((raster.columns - columns) * share)
    const top = Math.floor((raster.rows - rows) * (n % 2 === 0 ? share : 1 - share))
    const ground = windowOf(raster, { left, top, columns, rows })
    const least = leastSpreadOf(ground)
    if (least === 0) continue
    const bare = phaseSurrogate(flatten(ground, least), random)
    values.push(...distinctRings(pitPeaks(bare, fromPx, toPx, tones).map(placed)).map((peak) => peak.logOdds))
  }
  return falseAlarmCurve(values, (surrogates * columns * rows * 4 ** level) / 1e6)
}

const placed = (peak: PitPeak) => ({ ...peak, logOdds: odds(peak) })

function quickAtMost(length: number): number {
  let quick = length
  while (quick > 1 && quickLength(quick) !== quick) quick--
  return quick
}
