import type { PlanarArea } from '#core/geometry'
import { cutForTurns } from './cut-for-turns.ts'
import { edgeBands } from './edge-bands.ts'
import { fewestTurns } from './fewest-turns.ts'
import { laneCells } from './lane-cells.ts'
import { type LaidLanes, parallelLanes } from './parallel-lanes.ts'
import { checkGround, checkWishes, closedPolygon, noGround } from './sound-ground.ts'
import { walkBetween } from './walk-between.ts'
import { type LaneCell, type WalkedLane, walkOrder } from './walk-order.ts'

/** How lanes are to lie. */
export interface LaneWishes {
  /** Between lanes, metres: the swath less the overlap. */
  readonly spacingM: number
  /** Degrees clockwise from grid north; null for the bearing with the fewest turns, of each piece its own. */
  readonly bearing: number | null
  /** False for transects: then ground at the edge that no lane comes near gets no lane of its own. */
  readonly edges: boolean
  /** Where the walk starts, easting and northing; null for where the first lane begins. */
  readonly from: readonly [x: number, y: number] | null
}

/** A piece of ground with lanes along one bearing. */
export interface LanePiece {
  /** Index of the polygon that it is, or is cut from. */
  readonly polygon: number
  readonly bearing: number
  readonly lanes: number
  readonly lengthM: number
}

/** Lanes in the order and the sense of the walk. */
export interface LanePlan {
  readonly epsg: number
  /** Interleaved eastings and northings of all lanes, metres. */
  readonly xy: Float64Array
  /** First pair of each lane, and past the last. */
  readonly start: Uint32Array
  /** Piece of each lane. */
  readonly piece: Uint32Array
  /** Length of each lane, metres. */
  readonly laneM: Float64Array
  readonly pieces: readonly LanePiece[]
  /** The walk from each lane to the next: its corners between the two, pairs `wayStart[i]` up to `wayStart[i + 1]` of `wayXy`. */
  readonly wayXy: Float64Array
  readonly wayStart: Uint32Array
  /** Length of the walk from each lane to the next, 0 after the last; and how much of it lies off the search area. */
  readonly wayM: Float64Array
  readonly outsideM: Float64Array
  readonly lengthM: number
  /** The bearing that most of the length has, degrees from grid north; NaN for lanes that have none. */
  readonly bearing: number
  /** What was assumed or is odd, one sentence each. */
  readonly notes: readonly string[]
}

/**
 * Parallel lanes over an area, in the order of a walk.
 *
 * CRS     one planar grid, metres.
 * Method  docs/methods/lanes.md
 * Cost    about 0.3 s for 1,000 ha at 1 m, 10,000 km of lanes; 100,000 corners add about 0.5 s.
 * Faults  SurveyError: 'no-area', 'area-invalid', 'setting-out-of-range'.
 */
export function lanePlan(area: PlanarArea, wishes: LaneWishes): LanePlan {
  checkWishes(wishes)
  const { flaws, notes } = checkGround(area)
  const pieces: LaidLanes[] = []
  const polygonOf: number[] = []
  let narrow = 0
  area.polygons.forEach((polygon, p) => {
    const closed = closedPolygon(polygon)
    if (closed === null) return
    const sound = !flaws.has(p)
    const cut = wishes.bearing === null && sound ? cutForTurns(closed, wishes.spacingM) : [closed]
    let strips = 0
    for (const piece of cut) {
      const bearing = wishes.bearing === null ? fewestTurns(piece).bearing : halfCircle(wishes.bearing)
      const laid = parallelLanes(piece, { bearing, spacing: wishes.spacingM, edges: wishes.edges, sound })
      strips += laid.strip.length === 0 ? 0 : laid.strip.at(-1)! + 1
      pieces.push(laid)
      polygonOf.push(p)
    }
    if (strips <= 1) narrow++
  })
  if (narrow > 0) notes.push(narrowInWords(narrow, area.polygons.length, wishes.spacingM))
  const cells = pieces.flatMap((laid, piece): LaneCell[] =>
    laneCells(laid).map((lanes) => ({ piece, lanes })),
  )
  if (cells.length === 0) throw noGround()
  const order = walkOrder(pieces, cells, wishes.from)
  return walkedPlan(area, pieces, polygonOf, order, notes)
}

/** Puts lanes that were laid in the order of the walk, and finds the walk between them. */
export function walkedPlan(
  area: PlanarArea,
  laid: readonly LaidLanes[],
  polygonOf: readonly number[],
  order: readonly WalkedLane[],
  notes: readonly string[],
): LanePlan {
  const pairs = laid.reduce((sum, { xy }) => sum + (xy.length >> 1), 0)
  const xy = new Float64Array(2 * pairs)
  const start = new Uint32Array(order.length + 1)
  const piece = new Uint32Array(order.length)
  const laneM = new Float64Array(order.length)
  const pieceM = new Float64Array(laid.length)
  let at = 0
  order.forEach(({ piece: p, lane, backwards }, i) => {
    const { xy: from, start: starts } = laid[p]!
    const [a, b] = [starts[lane]!, starts[lane + 1]!]
    for (let k = 0; k < b - a; k++, at++) {
      const pair = backwards ? b - 1 - k : a + k
      xy[2 * at] = from[2 * pair]!
      xy[2 * at + 1] = from[2 * pair + 1]!
      if (k > 0)
        laneM[i]! += Math.sqrt(
          (xy[2 * at]! - xy[2 * at - 2]!) ** 2 + (xy[2 * at + 1]! - xy[2 * at - 1]!) ** 2,
        )
    }
    start[i + 1] = at
    piece[i] = p
    pieceM[p]! += laneM[i]!
  })
  const pieces = laid.map((lanes, p) => ({
    polygon: polygonOf[p]!,
    bearing: lanes.bearing,
    lanes: lanes.start.length - 1,
    lengthM: pieceM[p]!,
  }))
  return {
    epsg: area.epsg,
    xy,
    start,
    piece,
    laneM,
    pieces,
    ...waysBetween(area, xy, start),
    lengthM: laneM.reduce((sum, m) => sum + m, 0),
    bearing: mainBearing(pieces),
    notes,
  }
}

function waysBetween(
  area: PlanarArea,
  xy: Float64Array,
  start: Uint32Array,
): Pick<LanePlan, 'wayXy' | 'wayStart' | 'wayM' | 'outsideM'> {
  const lanes = start.length - 1
  const index = edgeBands({
    ...area,
    polygons: area.polygons.flatMap((polygon) => closedPolygon(polygon) ?? []),
  })
  const wayStart = new Uint32Array(lanes + 1)
  const wayM = new Float64Array(lanes)
  const outsideM = new Float64Array(lanes)
  const corners: number[] = []
  for (let i = 0; i < lanes; i++) {
    wayStart[i] = corners.length >> 1
    if (i + 1 === lanes) continue
    const end = 2 * start[i + 1]!
    const way = walkBetween(index, [xy[end - 2]!, xy[end - 1]!], [xy[end]!, xy[end + 1]!])
    for (let k = 2; k < way.xy.length - 2; k++) corners.push(way.xy[k]!)
    wayM[i] = way.lengthM
    outsideM[i] = way.outsideM
  }
  wayStart[lanes] = corners.length >> 1
  return { wayXy: Float64Array.from(corners), wayStart, wayM, outsideM }
}

/** The bearing, to a tenth of a degree, that most metres of lanes have, given as that of the longest piece with it. */
function mainBearing(pieces: readonly LanePiece[]): number {
  const metres = new Map<number, number>()
  for (const { bearing, lengthM } of pieces) {
    const key = Math.round(bearing * 10) % 1800
    metres.set(key, (metres.get(key) ?? 0) + lengthM)
  }
  let best: LanePiece | null = null
  let most = -1
  for (const piece of pieces) {
    const all = metres.get(Math.round(piece.bearing * 10) % 1800)!
    if (all > most || (all === most && piece.lengthM > best!.lengthM)) [best, most] = [piece, all]
  }
  return best?.bearing ?? Number.NaN
}

/** A bearing from 0 up to 180: lanes have no sense of their own. */
function halfCircle(bearing: number): number {
  const half = ((bearing % 180) + 180) % 180
  return half === 180 ? 0 : half
}

function narrowInWords(narrow: number, all: number, spacingM: number): string {
  if (all === 1) return `The area is no wider across the lanes than their spacing of ${spacingM} m: one lane.`
  return `${narrow} of ${all} parts ${narrow === 1 ? 'is' : 'are'} no wider across the lanes than their spacing of ${spacingM} m: one lane each.`
}
