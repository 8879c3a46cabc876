import type { PlanarGrid } from './planar-grid.ts'

const degree = Math.PI / 180
/** Half the span of the difference: about 10 m on the ground, where rounding and curvature both fall below 1e-9 degree. */
const reach = 1e-4

/**
 * Grid convergence: the bearing of grid north measured from true north, degrees, positive where grid north lies east of
 * true north. A true bearing less the convergence is a grid bearing.
 *
 * Method  central difference along the meridian; so it holds for every grid, shifts included. Good to 1e-7 degree.
 * Limits  NaN outside the grid, and at the poles.
 */
export function gridConvergence(grid: PlanarGrid, lon: number, lat: number): number {
  const pairs = Float64Array.of(lon, lat - reach, lon, lat + reach)
  grid.forward(pairs, pairs)
  return -Math.atan2(pairs[2]! - pairs[0]!, pairs[3]! - pairs[1]!) / degree
}

/** Bearing from one place of a planar grid to another, degrees clockwise from grid north, 0 up to 360. NaN for no distance. */
export function planarBearing(x1: number, y1: number, x2: number, y2: number): number {
  if (x1 === x2 && y1 === y2) return NaN
  return wholeCircle(Math.atan2(x2 - x1, y2 - y1) / degree)
}

/** A bearing brought into 0 up to 360 degrees. */
export function wholeCircle(bearing: number): number {
  const turned = bearing - 360 * Math.floor(bearing / 360)
  return turned === 360 ? 0 : turned
}

/** A bearing from true north as one from grid north, degrees, by the convergence at the place where it is taken. */
export function gridBearing(trueBearing: number, convergence: number): number {
  return wholeCircle(trueBearing - convergence)
}

/** A bearing from grid north as one from true north, degrees. */
export function trueBearing(gridBearing: number, convergence: number): number {
  return wholeCircle(gridBearing + convergence)
}
