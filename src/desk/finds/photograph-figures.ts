import type { PhotographView } from '#contract'
import {
  type Measured,
  measuredArea,
  measuredLength,
  type PictureScale,
  pictureScale,
} from '#core/photographs'

/** A place in a picture, from its upper left corner. */
export type Pixel = readonly [x: number, y: number]

const at = ([x, y]: Pixel): { readonly x: number; readonly y: number } => ({ x, y })

/** The scale of a photograph by the line along its scale bar, which is taken as true; null until that was drawn. */
function scaleOf({ scaleLine, width, height }: PhotographView): PictureScale | null {
  if (scaleLine === null) return null
  const [x1, y1, x2, y2, lengthMm] = scaleLine
  // A click errs by about a pixel of the screen, on which the longer side has some 900.
  const clickPixels = Math.max(1, Math.max(width, height) / 900)
  return pictureScale({ from: at([x1, y1]), to: at([x2, y2]), lengthMm, lengthErrorMm: 0 }, clickPixels)
}

/** A value with as many figures as its error allows: `12.5 ± 0.3`. */
function withError({ value, standardError }: Measured): string {
  const digits = Math.max(0, Math.min(3, 1 - Math.floor(Math.log10(Math.max(standardError, 1e-6)))))
  return `${value.toFixed(digits)} ± ${standardError.toFixed(digits)}`
}

/** What was measured, in words: `12.5 ± 0.3 mm`; empty until there are enough points and a scale. */
export function figureText(
  kind: 'length' | 'area',
  points: readonly Pixel[],
  photograph: PhotographView,
): string {
  const scale = scaleOf(photograph)
  if (scale === null || points.length < (kind === 'length' ? 2 : 3)) return ''
  return kind === 'length'
    ? `${withError(measuredLength(points.map(at), scale))} mm`
    : `${withError(measuredArea(points.map(at), scale))} mm²`
}
