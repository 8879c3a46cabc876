import type { PixelAxes } from './pixel-map.ts'

/** How the axes of a raster lie to those of the survey's grid. */
export interface RasterTurn {
  /** Size of a cell on the ground, metres. */
  readonly cellX: number
  readonly cellY: number
  /** Bearing from grid north of a raster's own north (up its columns), degrees. */
  readonly north: number
  /** True where its rows run east to west or its columns south to north, so that bearings run the other way round. */
  readonly mirrored: boolean
}

const degrees = 180 / Math.PI

export function rasterTurn({ column, up }: PixelAxes): RasterTurn {
  return {
    cellX: Math.hypot(...column),
    cellY: Math.hypot(...up),
    north: Math.atan2(up[0], up[1]) * degrees,
    mirrored: column[0] * up[1] - column[1] * up[0] < 0,
  }
}

const wholeCircle = (angle: number): number => ((angle % 360) + 360) % 360

/** A bearing from grid north as the raster's own axes have it. */
export function toRaster(bearing: number, { north, mirrored }: RasterTurn): number {
  return wholeCircle(mirrored ? north - bearing : bearing - north)
}

/** A bearing in the raster's own axes from grid north. NaN stays NaN. */
export function fromRaster(bearing: number, { north, mirrored }: RasterTurn): number {
  return wholeCircle(mirrored ? north - bearing : north + bearing)
}
