import sharp from 'sharp'
import type { Layer, PackWishes } from '#contract'
import { SurveyError } from '#core/faults'
import type { PlanarGrid } from '#core/geodesy'
import type { Bounds } from '#core/geometry'
import type { PackPicture } from '#formats/walk-pack'
import type { LayersOfSurvey } from '../layers/layers-of-survey.ts'
import type { PaintedPiece } from '../layers/warp-tile.ts'
import { projected } from '../projecting.ts'

type LayersForPack = Pick<LayersOfSurvey, 'list' | 'ground' | 'whole'>

/** A clip of a layer, painted: red, green and blue, white where the layer holds nothing. */
interface Clip {
  readonly layer: Layer
  readonly west: number
  readonly north: number
  readonly pixelM: number
  readonly columns: number
  readonly rows: number
  readonly pixels: Uint8Array
}

const tile = 256
const quality = 80
/** Below this a picture shows nothing that would be of use, pixels of its longer side. */
const leastSide = 128
const bytesPerMb = 1_000_000

/**
 * Layers clipped to some ground with a margin, north up in the survey's grid, as JPEG: no finer than the layer, no longer than `sidePx`, all
 * together no larger than `mostMb`, for which all are reduced alike.
 *
 * Cost    about 10 ms for 256 x 256 pixels, three bytes a pixel of memory.
 * Faults  SurveyError 'not-found' for a layer that is gone or lies nowhere, 'nothing-to-export' for one that does not reach the ground,
 *         'file-too-large' where so many pictures cannot be that small, 'cancelled', those of the layers' tiles.
 */
export async function packPictures(
  layers: LayersForPack,
  grid: PlanarGrid,
  ground: Bounds,
  wishes: PackWishes,
  signal?: AbortSignal,
): Promise<PackPicture[]> {
  const clips: Clip[] = []
  for (const id of wishes.layers) clips.push(await clipOf(layers, id, ground, wishes, signal))
  const most = wishes.mostMb * bytesPerMb
  let scale = 1
  for (;;) {
    const made = await Promise.all(clips.map((clip) => encoded(clip, scale)))
    const bytes = made.reduce((sum, picture) => sum + picture.bytes.length, 0)
    if (bytes <= most) return made.map((picture, i) => described(picture, clips[i]!, i, grid))
    // Bytes go about with the pixels; a little less, so that one more turn is usually enough.
    scale *= Math.min(0.9, 0.95 * Math.sqrt(most / bytes))
    if (clips.some(({ columns, rows }) => Math.max(columns, rows) * scale < leastSide)) {
      const sentence = `${clips.length} pictures cannot be made as small as ${wishes.mostMb} MB and still show the ground; take fewer, or allow more.`
      throw new SurveyError('file-too-large', sentence)
    }
  }
}

async function clipOf(
  layers: LayersForPack,
  id: number,
  ground: Bounds,
  { sidePx, marginM }: PackWishes,
  signal?: AbortSignal,
): Promise<Clip> {
  const layer = layers.list().find((each) => each.id === id)
  if (!layer?.bounds) {
    const sentence = layer
      ? `${layer.name} has not been placed yet, so it cannot go out with a plan.`
      : `There is no layer ${id} in the survey; it may have been removed.`
    throw new SurveyError('not-found', sentence)
  }
  const [west, south, east, north] = layer.bounds
  const clip = {
    minX: Math.max(west, ground.minX - marginM),
    minY: Math.max(south, ground.minY - marginM),
    maxX: Math.min(east, ground.maxX + marginM),
    maxY: Math.min(north, ground.maxY + marginM),
  }
  const [width, height] = [clip.maxX - clip.minX, clip.maxY - clip.minY]
  if (!(width > 0 && height > 0))
    throw new SurveyError(
      'nothing-to-export',
      `${layer.name} does not reach the ground of the plan; leave it out.`,
    )
  const pixelM = Math.max(layer.tileM, Math.max(width, height) / sidePx)
  const [columns, rows] = [Math.max(1, Math.floor(width / pixelM)), Math.max(1, Math.floor(height / pixelM))]
  await layers.whole(id)
  const pixels = new Uint8Array(3 * columns * rows).fill(255)
  for (let top = 0; top < rows; top += tile)
    for (let left = 0; left < columns; left += tile) {
      const corner = { west: clip.minX + left * pixelM, north: clip.maxY - top * pixelM, pixelM }
      const { piece } = await layers.ground(id, corner, null, signal)
      if (piece) layOn(pixels, columns, rows, piece, left, top)
    }
  return { layer, west: clip.minX, north: clip.maxY, pixelM, columns, rows, pixels }
}

/** Lays a painted square onto white. */
function layOn(
  out: Uint8Array,
  columns: number,
  rows: number,
  { channels, pixels, columns: wide, rows: high }: PaintedPiece,
  left: number,
  top: number,
): void {
  const grey = channels === 2
  for (let y = 0; y < Math.min(high, rows - top); y++)
    for (let x = 0; x < Math.min(wide, columns - left); x++) {
      const from = channels * (y * wide + x)
      const to = 3 * ((top + y) * columns + left + x)
      const alpha = pixels[from + channels - 1]! / 255
      for (let c = 0; c < 3; c++) out[to + c] = 255 + alpha * (pixels[from + (grey ? 0 : c)]! - 255)
    }
}

interface Encoded {
  readonly bytes: Uint8Array
  readonly columns: number
  readonly rows: number
}

async function encoded({ columns, rows, pixels }: Clip, scale: number): Promise<Encoded> {
  const width = Math.max(1, Math.round(columns * scale))
  const height = Math.max(1, Math.round(rows * scale))
  const picture = sharp(pixels, { raw: { width: columns, height: rows, channels: 3 } })
  if (scale < 1) picture.resize(width, height, { fit: 'fill' })
  const bytes = await picture.jpeg({ quality }).toBuffer()
  return { bytes: new Uint8Array(bytes), columns: width, rows: height }
}

function described({ bytes, columns, rows }: Encoded, clip: Clip, i: number, grid: PlanarGrid): PackPicture {
  const { layer, west, north, pixelM } = clip
  const [width, height] = [clip.columns * pixelM, clip.rows * pixelM]
  const corners = projected(
    Float64Array.of(west, north, west + width, north, west + width, north - height, west, north - height),
    grid.inverse,
  )
  const pair = (k: number): [number, number] => [corners[2 * k]!, corners[2 * k + 1]!]
  return {
    file: `pictures/${i + 1}.jpg`,
    name: layer.name,
    takenOn: layer.takenOn,
    attribution: layer.attribution ?? null,
    mediaType: 'image/jpeg',
    columns,
    rows,
    epsg: grid.epsg,
    west,
    north,
    pixelWidthM: width / columns,
    pixelHeightM: height / rows,
    corners: [pair(0), pair(1), pair(2), pair(3)],
    bytes,
  }
}
