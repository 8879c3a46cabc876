import type { PlanarArea } from '#core/geometry'
import type { PlanarTrack } from '#core/track'

/** A track from interleaved eastings and northings, without times. */
export const track = (xy: ArrayLike<number>, segmentStart: number[] = [0]): PlanarTrack => ({
  epsg: 27700,
  xy: Float64Array.from(xy),
  segmentStart: Uint32Array.from(segmentStart),
  time: null,
})
/** An upright rectangle. */
export const box = (west: number, south: number, east: number, north: number): Float64Array =>
  Float64Array.of(west, south, east, south, east, north, west, north, west, south)
/** An area of one polygon: its outline, then its holes. */
export const areaOf = (...rings: Float64Array[]): PlanarArea => ({ epsg: 27700, polygons: [{ rings }] })

/** The code and the sentence of what `run` throws, as one text; 'none' where it throws nothing. */
export function faultOf(run: () => unknown): string {
  try {
    run()
  } catch (error) {
    return `${(error as { code?: string }).code}: ${(error as Error).message}`
  }
  return 'none'
}
