import { SurveyError } from '#core/faults'
import { areaBounds, type PlanarArea } from '#core/geometry'
import type { GridFrame } from '#core/raster'
import { type PlanarTrack, sweptLegs, sweptStep } from '#core/track'
import { chanceTable, reachInErrors } from './chance-table.ts'
import { type ChanceSums, chanceTile } from './chance-tile.ts'
import { cellSteps, cellsOver, finestStep } from './choose-cell.ts'
import type { CoverProgress } from './cover-grid.ts'
import { type CoverOptions, prepareCover } from './cover-plan.ts'
import { meanZigzagShare } from './zigzag.ts'

export interface ChanceOptions extends CoverOptions {
  /** Standard deviation of the recorded position to the side, metres; 0 leaves only the zigzag. */
  readonly errorM: number
  /** Length of ground that the coil senses along the walk, metres, with `rateHz`; null or absent: the whole arc is sensed. */
  readonly coilM?: number | null
  /** Sweeps a second, one sweep being one crossing. */
  readonly rateHz?: number | null
}

/** The chance that each spot was sensed, and its mean over the search area. Row 0 is the northernmost. */
export interface CoverChance extends GridFrame {
  /** 0 to 1 for each cell; NaN outside the area. */
  readonly chance: Float32Array
  readonly expectedShare: number
  /** How it was made and what was assumed, one sentence each. */
  readonly notes: readonly string[]
}

/**
 * The cover as chances: how likely it is that each spot was inside the swath, and sensed, given that recorded positions are
 * wrong by a normal error to the side.
 *
 * Method  for each pass the greatest chance over its legs (chance-table.ts), passes combined as 1 - product(1 - p)
 *         (handbook section 2). Chances reach out to four standard deviations beyond the swath.
 * Cells   half the error wide or finer, never finer than `cellM`: a surface smoothed by the error needs no more. Coarser
 *         where the surface would have more than 60 million cells.
 * Cost    per leg the cells within reach of it, 10 to 20 ns each: 6 to 10 s for a million fixes, 0.6 s for 100,000.
 * Source  docs/methods/cover.md#chances
 * Faults  those of `prepareCover`; SurveyError('setting-out-of-range', 'cancelled').
 */
export function coverChance(
  tracks: readonly PlanarTrack[],
  area: PlanarArea,
  options: ChanceOptions,
  progress?: CoverProgress,
  stop?: () => boolean,
): CoverChance {
  checkChance(options)
  const { widthM, errorM } = options
  const cellM = chanceCell(area, options)
  const reachM = widthM / 2 + reachInErrors * errorM
  // The swath is checked by its own width first, then everything is placed for one that reaches as far as the chances do.
  const plan = prepareCover(tracks, area, { ...options, cellM, widthM: widthM > 0 ? 2 * reachM : widthM })
  const zigzag = zigzagOfLegs(tracks, options)
  const sums: ChanceSums = {
    plan,
    table: chanceTable(widthM / 2 / cellM, errorM / cellM, zigzag.ratio !== null),
    ratio: zigzag.ratio,
    awayCells: widthM / cellM,
  }
  const chance = new Float32Array(plan.rows * plan.columns)
  for (let tile = 0; tile < plan.tiles; tile++) {
    if (stop?.()) throw new SurveyError('cancelled', 'The chances were cancelled; nothing was changed.')
    progress?.(tile / plan.tiles, 'working out chances')
    const rowFrom = tile * plan.tileRows
    chanceTile(sums, rowFrom, Math.min(plan.rows, rowFrom + plan.tileRows), chance)
  }
  progress?.(1, 'working out chances')
  const { epsg, west, north, columns, rows } = plan
  const expectedShare = meanOf(chance)
  return {
    epsg,
    west,
    north,
    cellM,
    columns,
    rows,
    chance,
    expectedShare,
    notes: [...notesOf(options, cellM), ...zigzag.notes],
  }
}

function checkChance({ errorM, coilM = null, rateHz = null }: ChanceOptions): void {
  if (!(errorM >= 0 && Number.isFinite(errorM)))
    throw new SurveyError('setting-out-of-range', `The position error must be 0 m or more, not ${errorM} m.`)
  if ((coilM === null) !== (rateHz === null))
    throw new SurveyError(
      'setting-out-of-range',
      'The coil and the rate of sweeps are given together or not at all.',
    )
  if (coilM !== null && !(coilM > 0 && Number.isFinite(coilM)))
    throw new SurveyError('setting-out-of-range', `The coil must be longer than 0 m, not ${coilM} m.`)
  if (rateHz !== null && !(rateHz > 0 && Number.isFinite(rateHz)))
    throw new SurveyError('setting-out-of-range', `The rate must be above 0 sweeps a second, not ${rateHz}.`)
}

/** No surface of chances is larger: 60 million cells of 4 bytes. */
const mostChanceCells = 60_000_000

/** Half the error, but fine enough for small areas, never finer than the cover's own cell, and no more cells than can be held. */
function chanceCell(area: PlanarArea, { cellM, errorM }: ChanceOptions): number {
  const bounds = areaBounds(area)
  const size = Math.sqrt((bounds.maxX - bounds.minX) * (bounds.maxY - bounds.minY))
  const wanted = Math.min(errorM / 2, size / 200)
  const cell = cellSteps.findLast((step) => step > cellM && step <= wanted) ?? cellM
  if (cellsOver(bounds, cell) <= mostChanceCells) return cell
  return finestStep(bounds, mostChanceCells, cell) ?? cell
}

/** The ratio D / a of every leg, in the order of the fixes of all tracks; null where none can be had. */
function zigzagOfLegs(
  tracks: readonly PlanarTrack[],
  options: ChanceOptions,
): { ratio: Float32Array | null; notes: string[] } {
  const { coilM = null, rateHz = null } = options
  if (coilM === null || rateHz === null) return { ratio: null, notes: [] }
  const ratio = new Float32Array(tracks.reduce((sum, track) => sum + (track.xy.length >> 1), 0)).fill(2)
  let [at, legs, timed, lengthM, sensedM] = [0, 0, 0, 0, 0]
  for (const track of tracks) {
    const { kind } = sweptLegs(track, options)
    const { xy, time } = track
    for (let i = 0; i < kind.length; i++, at++) {
      if (kind[i] !== sweptStep) continue
      legs++
      const seconds = time === null ? Number.NaN : time[i + 1]! - time[i]!
      if (!(seconds > 0)) continue
      timed++
      const length = Math.hypot(xy[2 * i + 2]! - xy[2 * i]!, xy[2 * i + 3]! - xy[2 * i + 1]!)
      // D / a with a = v / f; standing still everything is sensed.
      ratio[at] = Math.min(2, (coilM * rateHz * seconds) / length)
      lengthM += length
      sensedM += length * meanZigzagShare(ratio[at]!)
    }
  }
  if (timed === 0)
    return { ratio: null, notes: ['The fixes carry no times, so the zigzag of the coil was not counted.'] }
  const share = lengthM > 0 ? (100 * sensedM) / lengthM : 100
  const notes = [
    `At the speeds walked, a coil of ${coilM} m at ${rateHz} sweeps a second senses ${share.toFixed(0)} % of the ground within its arc.`,
  ]
  if (timed < legs)
    notes.push(
      `${legs - timed} of ${legs} steps carry no times that can be used; there the whole arc was taken as sensed.`,
    )
  return { ratio, notes }
}

function notesOf({ errorM, widthM }: ChanceOptions, cellM: number): string[] {
  return [
    `Chances for a position error of ${errorM} m to the side and a swath of ${widthM} m, on cells of ${cellM} m; ` +
      'the errors of different passes are taken as independent.',
  ]
}

function meanOf(chance: Float32Array): number {
  let sum = 0
  let cells = 0
  for (const value of chance) {
    if (Number.isNaN(value)) continue
    sum += value
    cells++
  }
  return sum / cells
}
