import type { Bands } from './bands.ts'
import { lumaWeights, shownBands } from './luminance.ts'
import { lineOf, type Stretch } from './stretch.ts'

const bytesAsTheyAre = { gain: 1, offset: 0 }

/** The line of each shown band: value to grey. */
export function shownLines(stretches: readonly (Stretch | null)[]): { gain: number; offset: number }[] {
  return stretches.map((stretch) => (stretch === null ? bytesAsTheyAre : lineOf(stretch)))
}

const clamped = (value: number): number => Math.min(255, Math.max(0, value || 0))

/** Brightness of each pixel, 0 to 255, after its bands have been stretched. NaN counts as 0: such pixels have no alpha. */
export function stretchedBrightness(image: Bands, stretches: readonly (Stretch | null)[]): Float64Array {
  const lines = shownLines(stretches)
  const shown = shownBands(image)
  const out = new Float64Array(image.columns * image.rows)
  shown.forEach((band, k) => {
    const values = image.bands[band]!
    const weight = shown.length === 3 ? lumaWeights[k]! : 1
    const { gain, offset } = lines[k]!
    for (let i = 0; i < out.length; i++) out[i]! += weight * clamped(gain * values[i]! + offset)
  })
  return out
}
