import { SurveyError } from '#core/faults'
import { areaBounds, type PlanarArea } from '#core/geometry'
import { normal, type Random, seededRandom } from '#core/random'
import { type PlanarTrack, sweptLegs, walkAccount } from '#core/track'
import { cellSteps, cellsOver, chooseCell, comfortableCells } from './choose-cell.ts'
import { type CoverProgress, coverTiles } from './cover-grid.ts'
import { type CoverOptions, type CoverPlan, checkInput, planOf, type WalkedLegs } from './cover-plan.ts'
import { type ThinWalk, thinWalk } from './thin-walk.ts'

export interface SpreadOptions extends CoverOptions {
  /** Standard deviation of a position along one axis, metres. */
  readonly errorM: number
  /** That of each track, where they differ. */
  readonly errorOfTrack?: readonly number[]
  /** Seconds over which the error of a receiver forgets itself: after so long 37 % of it is left. */
  readonly memoryS: number
  readonly simulations: number
  readonly seed: number
}

/** How far the covered share may be off, because positions are: of `simulations` walks that the recorded one may have been. */
export interface CoverSpread {
  readonly simulations: number
  readonly seed: number
  readonly mean: number
  readonly sd: number
  /** The share that 5, 50 and 95 of 100 simulated walks stay below. */
  readonly low: number
  readonly median: number
  readonly high: number
  /** What was assumed, one sentence each. */
  readonly notes: readonly string[]
}

/** Walking speed where a track has no times, metres a second: only to tell how long ago a fix was (our own choice). */
const assumedSpeedMS = 0.5

/** All that the simulations need, ready to be shared out among threads. */
export interface SpreadPlan {
  readonly walks: readonly ThinWalk[]
  readonly walk: WalkedLegs['walk']
  readonly area: PlanarArea
  readonly options: SpreadOptions
}

/**
 * Readies the walks for simulations. Faults: those of `prepareCover`; SurveyError('setting-out-of-range').
 */
export function prepareSpread(
  tracks: readonly PlanarTrack[],
  area: PlanarArea,
  options: SpreadOptions,
): SpreadPlan {
  checkSpread(options)
  checkInput(tracks, area)
  const { widthM } = options
  chooseCell(areaBounds(area), options.cellM)
  const legs = tracks.map((track) => sweptLegs(track, options))
  const walks = tracks.map((track, t) =>
    thinWalk(track, legs[t]!, Math.min(errorOf(options, t) / 15, widthM / 30)),
  )
  const cellM = simulationCell(area, options)
  return { walks, walk: walkAccount(tracks, legs, options), area, options: { ...options, cellM } }
}

/**
 * The covered shares of the simulated walks numbered `from` up to `to`. Each walk has its own stream of chance, so the shares do not
 * depend on how the walks were shared out.
 *
 * Model  the error along each axis is a first order Gauss-Markov process in time, on its own for each track: neighbouring fixes, and a
 *        whole lane, shift together, and after several times `memoryS` the receiver errs anew.
 * Cost   that of a cover on cells of a quarter of the swath, for each walk.
 */
export function simulateShares(
  { walks, walk, area, options }: SpreadPlan,
  from: number,
  to: number,
  progress?: CoverProgress,
  stop?: () => boolean,
): Float64Array {
  const shares = new Float64Array(to - from)
  let passes: Uint8Array | null = null
  for (let n = from; n < to; n++) {
    if (stop?.()) throw new SurveyError('cancelled', 'The simulations were cancelled; nothing was changed.')
    progress?.((n - from) / (to - from), 'simulating walks')
    const random = seededRandom((options.seed + Math.imul(n + 1, 0x6d2b_79f5)) >>> 0)
    const tracks = walks.map(({ track }, t) => shifted(track, errorOf(options, t), options.memoryS, random))
    const plan: CoverPlan = planOf({ tracks, legs: walks, walk }, area, options)
    passes ??= new Uint8Array(plan.rows * plan.columns)
    const { coveredCells, areaCells } = coverTiles(plan, 0, plan.tiles, passes)
    shares[n - from] = coveredCells / areaCells
  }
  return shares
}

/** What simulated shares come to. */
export function spreadOf(shares: Float64Array, { options, walks }: SpreadPlan): CoverSpread {
  const sorted = shares.slice().sort()
  const mean = shares.reduce((sum, share) => sum + share, 0) / shares.length
  const squares = shares.reduce((sum, share) => sum + (share - mean) ** 2, 0)
  const notes = [
    `${options.simulations} walks simulated on cells of ${options.cellM} m with seed ${options.seed}: an error of ${errorsInWords(options)} along each axis that changes over about ${options.memoryS} s.`,
  ]
  if (walks.some(({ track }) => track.time === null))
    notes.push(`Where there are no times, ${assumedSpeedMS} m/s were assumed.`)
  return {
    simulations: options.simulations,
    seed: options.seed,
    mean,
    sd: shares.length > 1 ? Math.sqrt(squares / (shares.length - 1)) : 0,
    low: quantile(sorted, 0.05),
    median: quantile(sorted, 0.5),
    high: quantile(sorted, 0.95),
    notes,
  }
}

/** The spread of the covered share on one thread. Faults: those of `prepareSpread`; SurveyError('cancelled'). */
export function coverSpread(
  tracks: readonly PlanarTrack[],
  area: PlanarArea,
  options: SpreadOptions,
  progress?: CoverProgress,
  stop?: () => boolean,
): CoverSpread {
  const plan = prepareSpread(tracks, area, options)
  return spreadOf(simulateShares(plan, 0, options.simulations, progress, stop), plan)
}

const errorOf = ({ errorM, errorOfTrack }: SpreadOptions, t: number): number => errorOfTrack?.[t] ?? errorM

/** 2 m, or from 0.8 to 2 m where tracks differ. */
function errorsInWords({ errorM, errorOfTrack = [] }: SpreadOptions): string {
  const all = errorOfTrack.length > 0 ? errorOfTrack : [errorM]
  const [least, most] = [Math.min(...all), Math.max(...all)].map((metres) => Number(metres.toFixed(2)))
  return least === most ? `${most} m` : `from ${least} to ${most} m`
}

function shifted(track: PlanarTrack, errorM: number, memoryS: number, random: Random): PlanarTrack {
  const xy = track.xy.slice()
  let [east, north] = [errorM * normal(random), errorM * normal(random)]
  for (let i = 0; i < xy.length; i += 2) {
    if (i > 0) {
      const told =
        track.time === null ? Number.NaN : Math.abs(track.time[i >> 1]! - track.time[(i >> 1) - 1]!)
      const metres = Math.hypot(track.xy[i]! - track.xy[i - 2]!, track.xy[i + 1]! - track.xy[i - 1]!)
      const seconds = Number.isNaN(told) ? metres / assumedSpeedMS : told
      const kept = Math.exp(-seconds / memoryS)
      const fresh = errorM * Math.sqrt(1 - kept * kept)
      east = kept * east + fresh * normal(random)
      north = kept * north + fresh * normal(random)
    }
    xy[i]! += east
    xy[i + 1]! += north
  }
  return { ...track, xy }
}

/** A quarter of the swath or the next finer step, no finer than the cover's own cell: cells counted by their centres have no bias. */
function simulationCell(area: PlanarArea, { widthM, cellM }: SpreadOptions): number {
  const bounds = areaBounds(area)
  const wanted = cellSteps.findLast((step) => step <= widthM / 4 && step > cellM) ?? cellM
  return cellSteps.find((step) => step >= wanted && cellsOver(bounds, step) <= comfortableCells) ?? wanted
}

function quantile(sorted: Float64Array, share: number): number {
  const at = share * (sorted.length - 1)
  const low = Math.floor(at)
  const high = Math.min(low + 1, sorted.length - 1)
  return sorted[low]! + (at - low) * (sorted[high]! - sorted[low]!)
}

function checkSpread({ widthM, errorM, errorOfTrack = [], memoryS, simulations, seed }: SpreadOptions): void {
  const refuse = (text: string): never => {
    throw new SurveyError('setting-out-of-range', text)
  }
  if (!(widthM > 0 && Number.isFinite(widthM))) refuse(`The swath must be wider than 0 m, not ${widthM} m.`)
  for (const metres of [errorM, ...errorOfTrack])
    if (!(metres >= 0 && Number.isFinite(metres)))
      refuse(`The position error must be 0 m or more, not ${metres} m.`)
  if (!(memoryS > 0)) refuse(`The time over which errors change must be above 0 s, not ${memoryS} s.`)
  if (!(Number.isInteger(simulations) && simulations >= 1 && simulations <= 10_000))
    refuse(`Simulations are 1 to 10000 whole ones, not ${simulations}.`)
  if (!(Number.isInteger(seed) && seed >= 0 && seed <= 0xffff_ffff))
    refuse(`The seed must be a whole number from 0 to 4294967295, not ${seed}.`)
}
