import { formatGridRef } from '#core/geodesy'

const nationalGrid = 27_700

/** Figures of a reference that names no finer square than a pixel: ten (1 m) from near, then eight, six and four. */
function figuresAt(metresPerPixel: number): number {
  return metresPerPixel <= 1 ? 10 : metresPerPixel <= 10 ? 8 : metresPerPixel <= 100 ? 6 : 4
}

/** The lettered reference of a place in the survey's grid; null in a grid that has none, or beyond its letters. */
export function pointerReference(
  epsg: number,
  easting: number,
  northing: number,
  metresPerPixel: number,
): string | null {
  if (epsg !== nationalGrid) return null
  try {
    return formatGridRef(easting, northing, figuresAt(metresPerPixel))
  } catch {
    return null
  }
}
