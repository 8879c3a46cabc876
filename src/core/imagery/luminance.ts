import type { Bands } from './bands.ts'

/** Weights of red, green and blue in the brightness of a picture: luma of ITU-R BT.601, as JPEG uses it. */
export const lumaWeights = [0.299, 0.587, 0.114] as const

/** The bands that a picture is shown by: the first three, or the first where there are fewer; counted from 0. */
export function shownBands({ bands }: Bands): readonly number[] {
  return bands.length >= 3 ? [0, 1, 2] : [0]
}

/** Brightness of each pixel in the numbers of the file: luma of the first three bands, or the first band where there are fewer. */
export function brightnessOf({ bands }: Bands): Float64Array {
  const [red, green, blue] = bands
  if (bands.length < 3) return Float64Array.from(red!)
  const [wr, wg, wb] = lumaWeights
  const out = new Float64Array(red!.length)
  for (let i = 0; i < out.length; i++) out[i] = wr * red![i]! + wg * green![i]! + wb * blue![i]!
  return out
}
