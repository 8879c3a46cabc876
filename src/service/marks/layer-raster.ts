import type { Layer, LayerView, Progress } from '#contract'
import { SurveyError } from '#core/faults'
import { lumaWeights } from '#core/imagery'
import { leastDiameterPx } from '#core/marks'
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

/** A smallest ring shows this many pixels across, where the layer is as fine as that: enough for the ditch to be seen. */
const pixelsAcross = 24
const mostPixels = 100_000_000
const side = 256

/** The smallest diameter that a layer can show, metres. */
const smallestDiameter = ({ pixelM }: Pick<Layer, 'pixelM'>): number => leastDiameterPx * pixelM

/**
 * How finely a layer is looked at for rings from some diameter: its own pixels, doubled while the smallest ring keeps 24 of them across.
 * Faults: SurveyError 'setting-out-of-range' for rings that it cannot show, 'raster-too-large', 'not-found' for a layer that lies nowhere.
 */
export function rasterPlace(layer: Layer, minDiameterM: number, maxDiameterM: number): RasterPlace {
  if (layer.bounds === null) {
    const sentence = `${layer.name} has not been placed yet, so nothing on it can be put on the map.`
    throw new SurveyError('not-found', sentence)
  }
  refuseDiameters(layer, minDiameterM, maxDiameterM)
  const [west, south, east, north] = layer.bounds
  let pixelM = layer.tileM
  while (2 * pixelsAcross * pixelM <= minDiameterM) pixelM *= 2
  const [columns, rows] = [Math.ceil((east - west) / pixelM), Math.ceil((north - south) / pixelM)]
  if (columns * rows > mostPixels) {
    const sentence = `${layer.name} has ${Math.round((columns * rows) / 1e6)} million pixels for rings so small, and ${mostPixels / 1e6} million are the most; search for larger ones.`
    throw new SurveyError('raster-too-large', sentence)
  }
  return { west, north, pixelM, columns, rows }
}

function refuseDiameters(layer: Layer, min: number, max: number): void {
  const fault = (sentence: string) => new SurveyError('setting-out-of-range', sentence)
  if (!(min < max)) {
    throw fault(`The smallest diameter must be below the largest, not ${min} m and ${max} m.`)
  }
  const least = smallestDiameter(layer)
  if (min < least) {
    throw fault(
      `${layer.name} has pixels of ${Number(layer.pixelM.toPrecision(3))} m, so the smallest ring it can show is ${Number(least.toPrecision(3))} m across; search from there.`,
    )
  }
  const [west, south, east, north] = layer.bounds!
  const most = Math.min(east - west, north - south)
  if (max > most) {
    throw fault(
      `${layer.name} is ${Math.floor(most)} m across at its narrowest, so no ring of ${max} m fits; search up to there.`,
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
