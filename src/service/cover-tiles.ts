import { promisify } from 'node:util'
import { inflate } from 'node:zlib'
import sharp from 'sharp'
import { type GridFrame, greyPerStep, passSteps } from '#contract'
import type { SurveyFile } from '#store'

const inflated = promisify(inflate)

const tilePixels = 256
/** Cells looked at along each side of a pixel: enough for the eye, and a tile costs no more the farther one stands back. */
const samples = 4
const outside = 255

interface KeptCover {
  readonly id: string
  readonly frame: GridFrame
  readonly passes: Uint8Array
}

/** Paints the cover of the open survey as map tiles; the cells of one cover are kept in memory. */
export class CoverTiles {
  #kept: Promise<KeptCover | null> | null = null
  #keptId = ''

  /** See DeskService.coverTile. Cost: some 5 ms a tile, and about 4 ms a million cells once for each cover. */
  async tile(
    survey: SurveyFile,
    id: string,
    level: number,
    column: number,
    row: number,
  ): Promise<Uint8Array | null> {
    if (this.#keptId !== id) {
      this.#keptId = id
      this.#kept = readCover(survey, id)
    }
    const cover = await this.#kept
    if (!cover || level < 0 || level > 16 || column < 0 || row < 0) return null
    const step = 2 ** level
    const { columns, rows } = cover.frame
    if (column * tilePixels * step >= columns || row * tilePixels * step >= rows) return null
    const pixels = paintTile(cover, step, column * tilePixels * step, row * tilePixels * step)
    const raw = { width: tilePixels, height: tilePixels, channels: 2 } as const
    return sharp(pixels, { raw }).png({ compressionLevel: 4 }).toBuffer()
  }
}

async function readCover(survey: SurveyFile, id: string): Promise<KeptCover | null> {
  const cover = survey.latestCover()
  const deflated = cover?.id === id ? survey.coverPasses(id) : null
  if (!cover || !deflated) return null
  return { id, frame: cover.frame as GridFrame, passes: await inflated(deflated) }
}

/**
 * Grey and alpha of one tile whose north-west cell is (firstColumn, firstRow), `step` cells a pixel. A pixel tells the
 * mean passes of its covered samples and their share (contract/cover-tiles.ts), so that gaps fade in as one comes nearer.
 */
export function paintTile(
  { frame, passes }: Pick<KeptCover, 'frame' | 'passes'>,
  step: number,
  firstColumn: number,
  firstRow: number,
): Uint8Array {
  const pixels = new Uint8Array(tilePixels * tilePixels * 2)
  const stride = Math.max(1, Math.floor(step / samples))
  for (let y = 0; y < tilePixels; y++) {
    const top = firstRow + y * step
    if (top >= frame.rows) break
    const bottom = Math.min(top + step, frame.rows)
    for (let x = 0; x < tilePixels; x++) {
      const left = firstColumn + x * step
      if (left >= frame.columns) break
      const right = Math.min(left + step, frame.columns)
      let [looked, covered, sum] = [0, 0, 0]
      for (let r = top; r < bottom; r += stride) {
        for (let c = left; c < right; c += stride) {
          const n = passes[r * frame.columns + c]!
          looked++
          if (n === outside || n === 0) continue
          covered++
          sum += n
        }
      }
      if (covered === 0) continue
      const at = 2 * (y * tilePixels + x)
      pixels[at] = greyPerStep * Math.min(passSteps, Math.round(sum / covered))
      pixels[at + 1] = Math.round((255 * covered) / looked)
    }
  }
  return pixels
}
