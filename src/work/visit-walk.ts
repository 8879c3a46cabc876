import { type CoverOptions, coverGrid, outsideArea } from '#core/cover'
import { areaBounds, type PlanarArea } from '#core/geometry'
import {
  type CleanedTrack,
  type CleanSettings,
  cleanTrack,
  cutParts,
  driven,
  fastStretches,
  type PlanarTrack,
  safeSpeed,
  standing,
  type TrackFixes,
} from '#core/track'

export interface VisitWalkInput {
  /** In the grid of the area. */
  readonly tracks: readonly TrackFixes[]
  readonly area: PlanarArea | null
  readonly clean: CleanSettings
  readonly cutDrives: boolean
  readonly coilM: number | null
  readonly rateHz: number | null
  readonly sweep: Pick<CoverOptions, 'widthM' | 'maxJumpM' | 'maxJumpS'>
  /** Times and numbers of finds, seconds since 1970-01-01 UTC. */
  readonly finds: readonly { readonly time: number; readonly count: number }[]
}

/** A visit cleaned: its fixes in order of tracks, and what they say. */
export interface VisitWalk {
  /** Six numbers a fix: easting, northing, time, speed, error, piece (counted over all tracks); NaN where not known. */
  readonly fixes: Float64Array
  readonly recorded: number
  readonly rejected: Readonly<Record<string, number>>
  readonly breaks: Readonly<Record<string, number>>
  readonly distanceM: number
  readonly walkingS: number | null
  readonly stoppedS: number | null
  readonly stops: number
  readonly drives: { readonly count: number; readonly metres: number }
  readonly medianErrorM: number | null
  readonly safeMS: number | null
  readonly tooFastM: number | null
  readonly tooFastS: number | null
  readonly speeds: { readonly stepMS: number; readonly seconds: readonly number[] }
  readonly growth: readonly { readonly atS: number; readonly share: number; readonly finds: number }[]
  readonly notes: readonly string[]
}

const columns = 6
/** Steps of the speeds, metres a second, and how many there are: the last holds all that is faster. */
const stepMS = 0.1
const speedSteps = 16
/** Moments at which the growth of the cover is told. */
const moments = 24
/** Cells of the growth: a third of the swath, on large ground up to the whole of it, so that there are about this many. */
const growthCells = 1_000_000
const leastCellM = 0.25

function growthCellM(area: PlanarArea, widthM: number): number {
  const { minX, minY, maxX, maxY } = areaBounds(area)
  const side = Math.sqrt(((maxX - minX) * (maxY - minY)) / growthCells)
  return Math.max(leastCellM, Math.min(widthM, Math.max(widthM / 3, side)))
}

/** Cleans the tracks of one visit and tells what they say. Cost: that of cleaning, and of one cover on coarse cells. */
export function visitWalk(input: VisitWalkInput): VisitWalk {
  const cleaned = input.tracks.map((track) => cleanedTrack(track, input))
  const { coilM, rateHz } = input
  const safeMS = coilM !== null && rateHz !== null ? safeSpeed(coilM, rateHz) : null
  const timed = cleaned.some(({ time }) => time !== null)
  const fast = safeMS === null || !timed ? null : cleaned.flatMap((track) => fastStretches(track, safeMS))
  const errors = cleaned.flatMap(({ errorM }) => [errorM])
  return {
    fixes: fixesOf(cleaned),
    recorded: input.tracks.reduce((sum, { xy }) => sum + xy.length / 2, 0),
    rejected: added(cleaned.map(({ rejected }) => rejected)),
    breaks: added(cleaned.map(({ breaks }) => counted(breaks.map(({ cause }) => cause)))),
    distanceM: sumOf(cleaned, ({ distanceM }) => distanceM) ?? 0,
    walkingS: sumOf(cleaned, ({ walkingS }) => walkingS),
    stoppedS: sumOf(cleaned, ({ stoppedS }) => stoppedS),
    stops: cleaned.reduce((sum, { stops }) => sum + stops.length, 0),
    drives: {
      count: cleaned.reduce((sum, { drives }) => sum + drives.length, 0),
      metres: cleaned.flatMap(({ drives }) => drives).reduce((sum, { metres }) => sum + metres, 0),
    },
    medianErrorM: median(errors),
    safeMS,
    tooFastM: fast?.reduce((sum, { metres }) => sum + metres, 0) ?? null,
    tooFastS: fast?.reduce((sum, { seconds }) => sum + seconds, 0) ?? null,
    speeds: { stepMS, seconds: timed ? speedSeconds(cleaned) : [] },
    growth: timed && input.area !== null ? growthOf(cleaned, input.area, input) : [],
    notes: [...new Set(cleaned.flatMap(({ notes }) => notes))],
  }
}

/** The drives are told whether they were cut or not. */
function cleanedTrack(track: TrackFixes, { clean, cutDrives }: VisitWalkInput): CleanedTrack {
  const whole = cleanTrack(track, clean)
  if (!cutDrives || whole.drives.length === 0) return whole
  return { ...cleanTrack(cutParts(track, whole.drives), clean), drives: whole.drives }
}

function fixesOf(cleaned: readonly CleanedTrack[]): Float64Array {
  const count = cleaned.reduce((sum, { xy }) => sum + xy.length / 2, 0)
  const fixes = new Float64Array(columns * count)
  let [at, piece] = [0, -1]
  for (const { xy, time, speedMS, errorM, segmentStart } of cleaned) {
    for (let i = 0, next = 0; i < errorM.length; i++, at += columns) {
      while (next < segmentStart.length && segmentStart[next]! <= i) {
        next++
        piece++
      }
      fixes.set(
        [xy[2 * i]!, xy[2 * i + 1]!, time?.[i] ?? Number.NaN, speedMS?.[i] ?? Number.NaN, errorM[i]!, piece],
        at,
      )
    }
  }
  return fixes
}

function counted(names: readonly string[]): Record<string, number> {
  const counts: Record<string, number> = {}
  for (const name of names) counts[name] = (counts[name] ?? 0) + 1
  return counts
}

function added(parts: readonly Readonly<Record<string, number>>[]): Record<string, number> {
  const sums: Record<string, number> = {}
  for (const part of parts)
    for (const [name, count] of Object.entries(part)) if (count > 0) sums[name] = (sums[name] ?? 0) + count
  return sums
}

function sumOf(
  cleaned: readonly CleanedTrack[],
  value: (track: CleanedTrack) => number | null,
): number | null {
  const told = cleaned.map(value).filter((each) => each !== null)
  return told.length === 0 ? null : told.reduce((sum, each) => sum + each, 0)
}

function median(parts: readonly Float64Array[]): number | null {
  const all = new Float64Array(parts.reduce((sum, { length }) => sum + length, 0))
  let at = 0
  for (const values of parts) {
    all.set(values, at)
    at += values.length
  }
  all.sort()
  return all[all.length >> 1] ?? null
}

/** Seconds of walking in each step of speed: by the mean speed of each leg, neither stood nor driven. */
function speedSeconds(cleaned: readonly CleanedTrack[]): number[] {
  const seconds = new Array<number>(speedSteps).fill(0)
  for (const { xy, time, state, segmentStart } of cleaned) {
    if (time === null) continue
    const starts = new Set(segmentStart)
    for (let i = 1; i < time.length; i++) {
      const still = state[i] === standing && state[i - 1] === standing
      if (starts.has(i) || still || state[i] === driven) continue
      const lasts = time[i]! - time[i - 1]!
      const metres = Math.hypot(xy[2 * i]! - xy[2 * i - 2]!, xy[2 * i + 1]! - xy[2 * i - 1]!)
      const step = Math.min(speedSteps - 1, Math.floor(metres / lasts / stepMS))
      seconds[step]! += lasts
    }
  }
  return seconds
}

/** The cover slice of time by slice of time on coarse cells, each slice laid over those before. */
function growthOf(
  cleaned: readonly CleanedTrack[],
  area: PlanarArea,
  { sweep, finds }: VisitWalkInput,
): VisitWalk['growth'] {
  const timed = cleaned.filter(({ time }) => time !== null && time.length > 0)
  const first = Math.min(...timed.map(({ time }) => time![0]!))
  const last = Math.max(...timed.map(({ time }) => time!.at(-1)!))
  const cellM = growthCellM(area, sweep.widthM)
  let reached: Uint8Array | null = null
  const growth = [{ atS: 0, share: 0, finds: 0 }]
  for (let m = 1; m <= moments; m++) {
    const [from, to] = [m - 1, m].map((step) => first + (step * (last - first)) / moments)
    const slices = timed
      .map((track) => sliceOf(track, from!, m === moments ? last : to!))
      .filter(({ xy }) => xy.length > 0)
    const found = finds.reduce((sum, { time, count }) => sum + (time <= to! ? count : 0), 0)
    if (slices.length === 0) {
      growth.push({ ...growth.at(-1)!, atS: to! - first, finds: found })
      continue
    }
    const grid = coverGrid(slices, area, { ...sweep, cellM })
    reached ??= new Uint8Array(grid.passes.length)
    let covered = 0
    for (let c = 0; c < reached.length; c++) {
      const passes = grid.passes[c]!
      if (passes !== outsideArea && passes > 0) reached[c] = 1
      covered += reached[c]!
    }
    growth.push({ atS: to! - first, share: covered / Math.max(1, grid.areaCells), finds: found })
  }
  return growth
}

/** The fixes from one time to another, and the one before them, so that no leg is lost between two slices. */
function sliceOf({ epsg, xy, time, segmentStart }: CleanedTrack, from: number, to: number): PlanarTrack {
  let [begin, end] = [0, time!.length]
  while (begin < end && time![begin]! < from) begin++
  while (end > begin && time![end - 1]! > to) end--
  const starts = [...segmentStart]
  if (end > begin && begin > 0 && !starts.includes(begin)) begin--
  const within = starts.filter((start) => start > begin && start < end).map((start) => start - begin)
  return {
    epsg,
    xy: xy.subarray(2 * begin, 2 * end),
    time: time!.subarray(begin, end),
    segmentStart: Uint32Array.from(end > begin ? [0, ...within] : []),
  }
}
