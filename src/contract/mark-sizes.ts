import type { LayerView } from './layers.ts'
import type { Mark } from './marks.ts'

/** Diameters that can be searched for, and that a mark may have, metres. */
export const markDiameterM = { least: 0.5, most: 500 } as const

/** Widths of lines that can be searched for, and least lengths, metres. */
export const lineWidthM = { least: 0.2, most: 50 } as const
export const lineLengthM = { least: 2, most: 5000 } as const

/** What a chip shows: a square of the ground about a mark's middle, on one layer, in one view. */
export interface ChipAddress {
  readonly layerId: number
  /** Null: the layer's usual one. */
  readonly view: LayerView | null
  /** Side of the square, metres; null: what suits the mark. */
  readonly sideM: number | null
}

/** Sides that a chip may have, metres. */
export const chipSideM = { least: 4, most: 2000 } as const

/** The side that suits a mark: two and a half times as wide as it is (a line or an enclosure: half as wide again), so that the ground about it is seen too. */
export function usualChipSide({
  diameterM,
  outline,
  easting,
  northing,
}: Pick<Mark, 'diameterM' | 'outline' | 'easting' | 'northing'>): number {
  // The middle of a line is half way along it, so one end may lie farther off than the other.
  const reach = (): number =>
    outline.reduce((most, [e, n]) => Math.max(most, Math.abs(e - easting), Math.abs(n - northing)), 0)
  return Math.min(chipSideM.most, Math.max(12, diameterM === null ? 3 * reach() : 2.5 * diameterM))
}
