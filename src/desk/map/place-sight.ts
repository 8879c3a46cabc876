import type { PlaceView } from '#contract'

type Bounds = readonly [west: number, south: number, east: number, north: number]

/** At least so much ground is shown on each side of a place, metres. */
const leastM = 60
const mostM = 200_000

/** What to show of the ground about a place: three times its square, or what the text leaves open. Null beyond the grid. */
export function placeSight({ easting, northing, precisionM }: PlaceView): Bounds | null {
  if (easting === null || northing === null) return null
  const reach = Math.min(mostM, Math.max(leastM, precisionM * 1.5))
  return [easting - reach, northing - reach, easting + reach, northing + reach]
}

/** The whole ground of a grid, to begin with where a survey holds nothing: Great Britain, Ireland; elsewhere none. */
export function gridSight(epsg: number): Bounds | null {
  if (epsg === 27_700) return [0, 0, 700_000, 1_250_000]
  if (epsg === 2157) return [400_000, 500_000, 800_000, 970_000]
  if (epsg === 29_903) return [0, 0, 400_000, 470_000]
  return null
}
