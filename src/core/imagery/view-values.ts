import { alphaOf, type Bands } from './bands.ts'
import { type GreyValue, greyBands, greyValues } from './grey-value.ts'
import { brightnessOf, shownBands } from './luminance.ts'

/** One number a pixel: brightness, one band or an index. Bands are counted from 0. */
export type PixelValue = GreyValue | { readonly of: 'brightness' }

/** The value of each pixel, in the file's own numbers and not stretched; NaN where the pixel holds nothing or has no value. For looking for marks. */
export function pixelValues(image: Bands, value: PixelValue): Float32Array {
  const looked = value.of === 'brightness' ? shownBands(image) : greyBands(value, image.bands.length)
  const alpha = alphaOf(image, looked)
  const values = value.of === 'brightness' ? brightnessOf(image) : greyValues(image, value, alpha)
  return Float32Array.from(values, (each, i) => (alpha[i] === 0 ? Number.NaN : each))
}
