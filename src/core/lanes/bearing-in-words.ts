/** The fewest turns, as a number, along a drawn line, the plough lines of a layer, or the contour of a terrain model. */
export const bearingSources = ['turns', 'given', 'line', 'plough', 'contour'] as const
export type BearingSource = (typeof bearingSources)[number]

/** How the bearing of lanes was come by. */
export interface BearingOrigin {
  readonly by: BearingSource
  /** The layer or file that it was read from. */
  readonly layer: string | null
  /** By how many degrees its parts differ. */
  readonly spreadDeg: number | null
}

/**
 * A bearing in degrees from grid north and how it was come by, to stand after the number of lanes.
 * @example bearingInWords(75, { by: 'plough', layer: 'Air 2022', spreadDeg: 2 }) // 'along 75°, the plough lines of Air 2022 (within 2°)'
 */
export function bearingInWords(bearing: number, { by, layer, spreadDeg }: BearingOrigin): string {
  const along = `along ${bearing.toFixed(0)}°`
  if (by === 'turns') return `${along}, that of the fewest turns`
  if (by === 'given') return `${along}, as given`
  if (by === 'line') return `${along}, that of a line drawn`
  const what = by === 'plough' ? 'the plough lines' : 'the contour'
  const within = spreadDeg === null ? '' : ` (within ${Math.max(1, Math.round(spreadDeg))}°)`
  return `${along}, ${what} of ${layer ?? 'a layer'}${within}`
}
