import type { Look } from '../look/roles.ts'

type Rgb = readonly [number, number, number]

const onPale: readonly Rgb[] = [
  [53, 183, 121],
  [38, 130, 142],
  [62, 73, 137],
  [68, 1, 84],
]
const onDark: readonly Rgb[] = [
  [49, 104, 142],
  [31, 158, 137],
  [110, 206, 88],
  [253, 231, 37],
]

/**
 * Colours of 1, 2, 3 and 4 or more passes in each look: steps of viridis (van der Walt and Smith 2015, CC0), which stay in
 * order for colour-blind eyes and in grey. More passes always stand out more from the paper: darker on pale, lighter on dark.
 */
export const passRamp: Readonly<Record<Look, readonly Rgb[]>> = {
  light: onPale,
  dark: onDark,
  'high-contrast': onPale,
}
