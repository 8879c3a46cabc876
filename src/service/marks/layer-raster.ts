import type { Layer, LayerView, MarkSearch, Progress, SoughtKind } from '#contract'
import { SurveyError } from '#core/faults'
import { lumaWeights } from '#core/imagery'
import { leastDiameterPx, leastLengthPx, leastLineWidthPx } from '#core/marks'
import type { GridFrame } from '#core/raster'
import { HeightsFile } from '#work'
import type { LayersOfSurvey } from '../layers/layers-of-survey.ts'
import type { PaintedPiece } from '../layers/warp-tile.ts'

/** Where a raster lies on the ground: its north-west corner and a pixel's side, metres in the survey's grid. */
export interface RasterPlace {
  readonly west: number
  readonly north: number
  readonly pixelM: number
  readonly columns: number
  readonly rows: number
}

/** How many pixels the smallest mark of a kind must show across, and how many it is given where the layer has them. */
const pixelsAcross: Readonly<Record<SoughtKind, { readonly least: number; readonly wanted: number }>> = {
  // So many that the ditch is seen.
  ring: { least: leastDiameterPx, wanted: 24 },
  pit: { least: leastDiameterPx, wanted: 8 },
  line: { least: leastLineWidthPx, wanted: 3 },
}

const mostPixels = 100_000_000
const side = 256

/** The smallest size that is sought, metres: a diameter, or the width of a line. */
const smallest = (search: MarkSearch): number =>
  search.kind === 'line' ? search.minWidthM : search.minDiameterM

/**
 * How finely a layer is looked at: its own pixels, doubled while the smallest mark keeps pixels enough for its kind across.
 * Faults: SurveyError 'setting-out-of-range' for marks that it cannot show, 'raster-too-large', 'not-found' for a layer that lies nowhere.
 */
export function rasterPlace(layer: Layer, search: MarkSearch): RasterPlace {
  if (layer.bounds === null) {
    const sentence = `${layer.name} has not been placed yet, so nothing on it can be put on the map.`
    throw new SurveyError('not-found', sentence)
  }
  refuseSizes(layer, search)
  const [west, south, east, north] = layer.bounds
  const { wanted } = pixelsAcross[search.kind]
  let pixelM = layer.tileM
  const isLongEnough = (pixel: number): boolean =>
    search.kind !== 'line' || leastLengthPx * pixel <= search.leastLengthM
  while (2 * wanted * pixelM <= smallest(search) && isLongEnough(2 * pixelM)) pixelM *= 2
  const [columns, rows] = [Math.ceil((east - west) / pixelM), Math.ceil((north - south) / pixelM)]
  if (columns * rows > mostPixels) {
    const small = search.kind === 'line' ? 'so narrow' : 'so small'
    const larger = search.kind === 'line' ? 'wider' : 'larger'
    const sentence = `${layer.name} has ${Math.round((columns * rows) / 1e6)} million pixels for ${search.kind}s ${small}, and ${mostPixels / 1e6} million are the most; search for ${larger} ones.`
    throw new SurveyError('raster-too-large', sentence)
  }
  return { west, north, pixelM, columns, rows }
}

function refuseSizes(layer: Layer, search: MarkSearch): void {
  const fault = (sentence: string) => new SurveyError('setting-out-of-range', sentence)
  const name = search.kind
  const [min, max] =
    search.kind === 'line' ? [search.minWidthM, search.maxWidthM] : [search.minDiameterM, search.maxDiameterM]
  if (!(min < max)) {
    const [least, most] =
      search.kind === 'line' ? ['least width', 'greatest'] : ['smallest diameter', 'largest']
    throw fault(`The ${least} must be below the ${most}, not ${min} m and ${max} m.`)
  }
  const least = pixelsAcross[search.kind].least * layer.pixelM
  if (min < least) {
    const size = search.kind === 'line' ? 'narrowest line it can show is' : `smallest ${name} it can show is`
    throw fault(
      `${layer.name} has pixels of ${Number(layer.pixelM.toPrecision(3))} m, so the ${size} ${Number(least.toPrecision(3))} m across; search from there.`,
    )
  }
  const [west, south, east, north] = layer.bounds!
  const most = Math.min(east - west, north - south)
  const long = search.kind === 'line' ? search.leastLengthM : max
  if (search.kind === 'line' && long < leastLengthPx * layer.pixelM) {
    const shortest = Number((leastLengthPx * layer.pixelM).toPrecision(3))
    throw fault(`${layer.name} shows no line shorter than ${shortest} m; search from there.`)
  }
  if (long > most) {
    throw fault(
      `${layer.name} is ${Math.floor(most)} m across at its narrowest, so no ${name} of ${long} m fits; search ${search.kind === 'line' ? 'for shorter ones' : 'up to there'}.`,
    )
  }
}

/**
 * Writes the brightness of a layer in one view, as the map shows it (0 to 255), into a file of blocks: north up in the survey's grid, NaN
 * where there is nothing. So what is searched is what the reviewer sees. Memory: 256 rows. Cost: about 10 ms a tile of 256 x 256.
 * Faults: SurveyError 'cancelled', 'disk-full', those of the layer's tiles.
 */
export async function writeLayerBlocks(
  layers: Pick<LayersOfSurvey, 'ground'>,
  { id, view }: { readonly id: number; readonly view: LayerView },
  place: RasterPlace,
  file: string,
  { progress, signal }: { readonly progress: Progress; readonly signal: AbortSignal },
): Promise<void> {
  const { west, north, pixelM, columns, rows } = place
  const out = new HeightsFile(file, columns, rows)
  try {
    for (let top = 0; top < rows; top += side) {
      const band = { columns, rows: Math.min(side, rows - top) }
      const values = new Float32Array(columns * band.rows).fill(Number.NaN)
      for (let left = 0; left < columns; left += side) {
        const corner = { west: west + left * pixelM, north: north - top * pixelM, pixelM }
        const { piece } = await layers.ground(id, corner, view, signal)
        if (piece) putPiece(values, band, piece, left)
      }
      out.put(values)
      progress((top + band.rows) / rows, 'looking at the layer')
    }
    out.finish(() => {}, 'looking at the layer')
  } finally {
    out.close()
  }
}

/** The brightness of a layer in one view in a frame of at most 256 cells a side, north up; NaN where there is nothing. Faults: those of the layer's tiles. */
export async function brightnessIn(
  layers: Pick<LayersOfSurvey, 'ground'>,
  { id, view }: { readonly id: number; readonly view: LayerView },
  frame: GridFrame,
  signal?: AbortSignal,
): Promise<Float32Array> {
  const values = new Float32Array(frame.columns * frame.rows).fill(Number.NaN)
  const corner = { west: frame.west, north: frame.north, pixelM: frame.cellM }
  const { piece } = await layers.ground(id, corner, view, signal)
  if (piece) putPiece(values, frame, piece, 0)
  return values
}

/** Lays a painted square into a band of rows, its left edge in a column. */
function putPiece(
  values: Float32Array,
  { columns, rows }: { readonly columns: number; readonly rows: number },
  piece: PaintedPiece,
  left: number,
): void {
  const { channels, pixels } = piece
  const [wr, wg, wb] = lumaWeights
  const width = Math.min(piece.columns, columns - left)
  for (let y = 0; y < Math.min(piece.rows, rows); y++) {
    for (let x = 0; x < width; x++) {
      const p = (y * piece.columns + x) * channels
      if (pixels[p + channels - 1]! < 128) continue
      values[y * columns + left + x] =
        channels === 2 ? pixels[p]! : wr * pixels[p]! + wg * pixels[p + 1]! + wb * pixels[p + 2]!
    }
  }
}
