import sharp from 'sharp'
import { chanceSteps, type GridFrame, greyPerChanceStep } from '#contract'

const tilePixels = 256
/** Cells looked at along each side of a pixel. */
const samples = 4

/**
 * One tile of a surface of chances (NaN outside the area), level 0 having one pixel a cell; null outside the frame.
 * Cost: some 5 ms.
 */
export async function chanceTile(
  { frame, chance }: { readonly frame: GridFrame; readonly chance: Float32Array },
  level: number,
  column: number,
  row: number,
): Promise<Uint8Array | null> {
  const step = 2 ** level
  const [left, top] = [column * tilePixels * step, row * tilePixels * step]
  if (level > 16 || left >= frame.columns || top >= frame.rows) return null
  const pixels = paintChances(frame, chance, step, left, top)
  const raw = { width: tilePixels, height: tilePixels, channels: 2 } as const
  return sharp(pixels, { raw }).png({ compressionLevel: 4 }).toBuffer()
}

/** Grey and alpha of one tile whose north-west cell is (firstColumn, firstRow), `step` cells a pixel. */
export function paintChances(
  { columns, rows }: Pick<GridFrame, 'columns' | 'rows'>,
  chance: Float32Array,
  step: number,
  firstColumn: number,
  firstRow: number,
): Uint8Array {
  const pixels = new Uint8Array(tilePixels * tilePixels * 2)
  const stride = Math.max(1, Math.floor(step / samples))
  for (let at = 0; at < tilePixels * tilePixels; at++) {
    const left = firstColumn + (at % tilePixels) * step
    const top = firstRow + Math.floor(at / tilePixels) * step
    let [looked, inside, sum] = [0, 0, 0]
    for (let r = top; r < Math.min(top + step, rows); r += stride) {
      for (let c = left; c < Math.min(left + step, columns); c += stride) {
        const p = chance[r * columns + c]!
        looked++
        if (Number.isNaN(p)) continue
        inside++
        sum += p
      }
    }
    if (inside === 0) continue
    const mean = sum / inside
    const grade = chanceSteps.filter((edge) => mean >= edge).length
    if (grade === 0) continue
    pixels[2 * at] = greyPerChanceStep * grade
    pixels[2 * at + 1] = Math.round((255 * inside) / looked)
  }
  return pixels
}
