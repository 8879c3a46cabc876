import type { BearingFound } from '#contract'
import { areaRows } from '#core/cover'
import { SurveyError } from '#core/faults'
import { areaBounds, type PlanarArea, polygonArea, simplifyRing } from '#core/geometry'
import { contourBearing, type TextureChip } from '#core/lanes'
import { alignedFrame, type LatticeFrame } from '#core/raster'
import { ploughBearingInThread } from '#work'
import { groundOverlay } from '../overlay.ts'

/** A raster to read a bearing from. */
export interface BearingRaster {
  readonly name: string
  /** Size of a pixel on the ground, metres. */
  readonly pixelM: number
  /** Values at the middles of a frame's cells, NaN where it has none. Frames are at most 256 cells a side. */
  readonly values: (frame: LatticeFrame) => Float32Array | Promise<Float32Array>
}

/** Parts along each side that plough lines are looked at in; each shows at most so many cells a side. */
const parts = 4
const partSide = 192
/** Plough lines are some 0.3 m apart (common practice): finer cells than this show more of the crop than of them. */
const finestM = 0.2
/** Hedges, tracks and headlands along the edge are left out. */
const edgeM = 3
/** A bearing is planned by only where chance would give such agreement once in a hundred. */
const sure = 0.99

/**
 * The bearing of plough lines, or whatever parallel texture is strongest, of a raster over some ground: read in 4 x 4 parts at the
 * raster's own fineness, whatever the size of the ground.
 *
 * Method  docs/methods/lanes.md#plough-lines
 * Cost    16 parts of at most 36,864 cells each: some 0.4 s in a thread, and what it takes to read them.
 * Faults  SurveyError('setting-out-of-range') where the ground has too few pixels; those of `values`.
 */
export async function ploughLines(
  ground: PlanarArea,
  { name, pixelM, values }: BearingRaster,
  signal?: AbortSignal,
): Promise<BearingFound> {
  const chip = await chipOf(ground, { name, pixelM, values })
  const found = await ploughBearingInThread(chip, signal ? { signal } : {})
  const { bearing, spread, confidence, parts: seen, agreeing } = found
  if (Number.isNaN(bearing)) return none(`${name} shows nothing, or the same everywhere, over this ground.`)
  const clear = confidence >= sure
  const agree = `${agreeing} of ${seen} parts of the ground agree within 10°`
  const text = clear
    ? `Plough lines of ${name}: ${degrees(bearing)}; ${agree}.`
    : `${name} shows no clear direction over this ground: ${agree}. Draw a line, or give the bearing.`
  return { bearing, spreadDeg: finite(spread), slopeDeg: null, clear, text }
}

/** The parts of a raster that plough lines are looked for in, side by side. */
async function chipOf(ground: PlanarArea, { name, pixelM, values }: BearingRaster): Promise<TextureChip> {
  const inner = await withoutEdge(ground)
  let cellM = pixelM
  while (cellM < finestM) cellM *= 2
  const whole = alignedFrame(areaBounds(inner), cellM, ground.epsg)
  const across = Math.min(partSide, Math.ceil(whole.columns / parts))
  const down = Math.min(partSide, Math.ceil(whole.rows / parts))
  if (Math.min(across, down) * parts < 16) throw tooFew(name, cellM)
  const chip = {
    columns: parts * across,
    rows: parts * down,
    cells: new Float32Array(parts * parts * across * down),
  }
  for (let row = 0; row < parts; row++)
    for (let column = 0; column < parts; column++) {
      const frame = partFrame(whole, column, row, across, down)
      const seen = masked(await values(frame), inner, frame)
      // The parts do not touch on the ground: their last column and row are left out, lest the seams count as texture.
      for (let r = 0; r < down; r++)
        for (let c = 0; c < across; c++)
          chip.cells[(row * down + r) * chip.columns + column * across + c] =
            r === down - 1 || c === across - 1 ? Number.NaN : seen[r * across + c]!
    }
  return chip
}

/** Cells for contours are wider than furrows, so that these do not count, and no more than so many a side. */
const contourCellM = 5
const contourSide = 128
/** Ground that falls by less is as good as level: a contour then follows chance. */
const leastSlope = 0.5
const mostTurn = 30
const fewestPlaces = 9

/**
 * The mean bearing of contours of a terrain model over some ground, with its spread and the mean slope.
 *
 * Method  docs/methods/lanes.md#contours
 * Faults  SurveyError('setting-out-of-range') where the ground has too few heights; those of `values`.
 */
export async function contour(
  ground: PlanarArea,
  { name, pixelM, values }: BearingRaster,
): Promise<BearingFound> {
  const { minX, minY, maxX, maxY } = areaBounds(ground)
  const cellM = Math.max(contourCellM, pixelM, Math.max(maxX - minX, maxY - minY) / contourSide)
  const frame = alignedFrame({ minX, minY, maxX, maxY }, cellM, ground.epsg)
  const { columns, rows } = frame
  const cells = masked(await values(frame), ground, frame)
  const { bearing, spread, slope, places } = contourBearing({ columns, rows, cells }, cellM)
  if (places < fewestPlaces) throw tooFew(name, cellM)
  const found = { bearing: finite(bearing), spreadDeg: finite(spread), slopeDeg: slope }
  const fall = `mean slope ${degrees(slope)}`
  if (Number.isNaN(bearing) || slope < leastSlope)
    return {
      ...found,
      clear: false,
      text: `The ground is as good as level by ${name} (${fall}): no contour to keep to.`,
    }
  if (spread > mostTurn) {
    const text = `The contours of ${name} turn by ${degrees(spread)} over this ground (${fall}): no one bearing follows them.`
    return { ...found, clear: false, text }
  }
  const text = `Contour of ${name}: ${degrees(bearing)}, and it keeps to that within ${degrees(spread)}; ${fall}.`
  return { ...found, clear: true, text }
}

const degrees = (value: number): string =>
  Number.isFinite(value) ? `${value.toFixed(value < 10 ? 1 : 0)}°` : 'any angle'
const finite = (value: number): number | null => (Number.isFinite(value) ? value : null)
const none = (text: string): BearingFound => ({
  bearing: null,
  spreadDeg: null,
  slopeDeg: null,
  clear: false,
  text,
})

function tooFew(name: string, cellM: number): SurveyError {
  const sentence = `The ground has too few cells of ${Number(cellM.toPrecision(2))} m of ${name} to read a bearing from; draw a line, or give the bearing.`
  return new SurveyError('setting-out-of-range', sentence)
}

const areaOf = ({ polygons }: Pick<PlanarArea, 'polygons'>): number =>
  polygons.reduce((sum, polygon) => sum + polygonArea(polygon), 0)

/** The ground without its rim, where enough is left. */
async function withoutEdge(ground: PlanarArea): Promise<PlanarArea> {
  // A rough outline of many corners takes seconds to be shrunk, and nobody needs the rim to the centimetre.
  const soft = ground.polygons.map(({ rings }) => ({
    rings: rings.map((ring) => simplifyRing(ring.subarray(0, -2), edgeM / 10)),
  }))
  const inner = { ...ground, polygons: (await groundOverlay()).grown(soft, -edgeM) }
  return areaOf(inner) > areaOf(ground) / 4 ? inner : ground
}

/** Frame of a part, in the middle of its share of the whole. */
function partFrame(
  whole: LatticeFrame,
  column: number,
  row: number,
  across: number,
  down: number,
): LatticeFrame {
  const middle = (share: number, all: number, side: number): number =>
    Math.floor(((share + 0.5) * all) / parts - side / 2)
  const { cellM, epsg } = whole
  const column0 = whole.column0 + middle(column, whole.columns, across)
  // Parts count from the north as rows of a chip do, the lattice from the south.
  const row0 = whole.row0 + middle(parts - 1 - row, whole.rows, down)
  const [west, north] = [column0 * cellM, (row0 + down) * cellM]
  return { epsg, cellM, columns: across, rows: down, column0, row0, west, north }
}

/** Values of a frame's cells that lie in an area, NaN elsewhere. */
function masked(values: Float32Array, area: PlanarArea, frame: LatticeFrame): Float32Array {
  const out = new Float32Array(values.length).fill(Number.NaN)
  const { start, spans } = areaRows(area, frame)
  for (let row = 0; row < frame.rows; row++)
    for (let span = start[row]!; span < start[row + 1]!; span++) {
      const [from, to] = [row * frame.columns + spans[2 * span]!, row * frame.columns + spans[2 * span + 1]!]
      out.set(values.subarray(from, to), from)
    }
  return out
}
