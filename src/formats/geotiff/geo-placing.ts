import type { GroundLines } from '#core/imagery'
import { numbersAt, type TiffBytes, type TiffDirectory } from './tiff-directory.ts'

/** Where a TIFF lies by its own tags. */
export interface GeoPlacing {
  /** Null where the tags do not place it. */
  readonly lines: GroundLines | null
  /** Control points that pin single pixels to the ground, where they are all it has. */
  readonly controlPoints: number
}

const mostPoints = 100_000
/** Metres or degrees: no pixel is smaller, and nothing on Earth lies farther. */
const [smallest, largest] = [1e-12, 1e12]

/**
 * The placing by ModelTransformation, else by ModelPixelScale and one ModelTiepoint. Tags name a pixel's outer corner, or with `pixelIsPoint` its
 * middle: then it is moved by half a pixel. Source: OGC GeoTIFF 1.1, annex B.6.
 */
export function geoPlacing(bytes: TiffBytes, directory: TiffDirectory, pixelIsPoint: boolean): GeoPlacing {
  const matrix = numbersAt(bytes, directory, 34_264, 16)
  const scale = numbersAt(bytes, directory, 33_550, 16)
  const points = numbersAt(bytes, directory, 33_922, 6 * mostPoints)
  const controlPoints = Math.floor(points.length / 6)
  const half = pixelIsPoint ? 0.5 : 0
  if (matrix.length === 16) {
    const [a, b, , x, d, e, , y] = matrix as unknown as number[]
    return usable({ x: x!, y: y!, a: a!, b: b!, d: d!, e: e! }, half, 0)
  }
  if (scale.length < 2 || controlPoints === 0) return { lines: null, controlPoints }
  const [i, j, , east, north] = points as unknown as [number, number, number, number, number]
  const [sx, sy] = [scale[0]!, -scale[1]!]
  return usable({ x: east - i * sx, y: north - j * sy, a: sx, b: 0, d: 0, e: sy }, half, controlPoints)
}

interface Affine {
  readonly x: number
  readonly y: number
  readonly a: number
  readonly b: number
  readonly d: number
  readonly e: number
}

/** Moved by half a pixel where wanted; null for one that lays the picture on a line or a point. */
function usable({ x, y, a, b, d, e }: Affine, half: number, controlPoints: number): GeoPlacing {
  const [column, row] = [Math.hypot(a, d), Math.hypot(b, e)]
  const plane = Math.min(column, row) > smallest && Math.abs(a * e - b * d) > 1e-4 * column * row
  if (!plane || ![x, y, a, b, d, e].every((figure) => Math.abs(figure) < largest))
    return { lines: null, controlPoints }
  const lines: GroundLines = {
    easting: x - half * (a + b),
    northing: y - half * (d + e),
    eastingPerColumn: a,
    northingPerColumn: d,
    eastingPerRow: b,
    northingPerRow: e,
  }
  return { lines, controlPoints }
}
