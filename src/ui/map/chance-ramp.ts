import type { Look } from '../look/roles.ts'

type Rgb = readonly [number, number, number]

const onPale: readonly Rgb[] = [
  [253, 231, 37],
  [122, 209, 81],
  [34, 168, 132],
  [42, 120, 142],
  [65, 68, 135],
]

/**
 * Colours of the steps of a chance (from 5, 20, 50, 80 and 95 %) in each look: steps of viridis (van der Walt and Smith 2015, CC0),
 * darker on pale and lighter on dark the surer it is that the ground was sensed.
 */
export const chanceRamp: Readonly<Record<Look, readonly Rgb[]>> = {
  light: onPale,
  dark: [...onPale].reverse(),
  'high-contrast': onPale,
}
