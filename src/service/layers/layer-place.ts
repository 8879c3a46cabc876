import type { Layer } from '#contract'
import type { PlanarGrid } from '#core/geodesy'
import type { Bounds } from '#core/geometry'
import { tileSide } from './layer-tile.ts'
import {
  groundBounds,
  type PixelAxes,
  type PixelMap,
  type PlacedFacts,
  pixelAxes,
  pixelMap,
  pixelSize,
} from './pixel-map.ts'

/** Where a layer's tiles lie: level 0 has pixels of `tileM`, each level above halves the detail, tiles count from the north-west corner of `bounds`. */
export interface LayerPlace {
  readonly map: PixelMap
  readonly axes: PixelAxes
  readonly pixelM: number
  readonly tileM: number
  readonly levels: number
  /** West and north are whole multiples of `tileM`, outwards. */
  readonly bounds: NonNullable<Layer['bounds']>
  /** What the placing may be wrong by, metres; null if not known. */
  readonly expectedErrorM: number | null
}

const usefulDigits = 9
/** Share of a pixel that a layer may lose at its edge. */
const hairsbreadth = 1e-3

/** Null while the layer is not placed, its system is not known, or it lies where the survey's grid does not reach. */
export function layerPlace(layer: PlacedFacts, grid: PlanarGrid): LayerPlace | null {
  const map = pixelMap(layer, grid)
  const bounds = map && groundBounds(map)
  const axes = map && pixelAxes(map)
  if (!map || !bounds || !axes || !onEarth(bounds, grid)) return null
  // Worked out from places, so a metre may be 0.999999999998 m: tiles would then begin a pixel off.
  const pixelM = Number(pixelSize(axes).toPrecision(usefulDigits))
  if (!(pixelM > 0)) return null
  const west = Math.floor(bounds.minX / pixelM + hairsbreadth) * pixelM
  const north = Math.ceil(bounds.maxY / pixelM - hairsbreadth) * pixelM
  const longest = Math.max(bounds.maxX - west, north - bounds.minY)
  return {
    map,
    axes,
    pixelM,
    tileM: pixelM,
    levels: levelsOf(longest / pixelM),
    bounds: [west, bounds.minY, bounds.maxX, north],
    expectedErrorM: together(layer.expectedErrorM, map.system.expectedErrorM),
  }
}

/** Figures of the survey's own grid may still lie beyond its reach. */
function onEarth({ minX, minY, maxX, maxY }: Bounds, grid: PlanarGrid): boolean {
  const middle = Float64Array.of((minX + maxX) / 2, (minY + maxY) / 2)
  grid.inverse(middle, middle)
  return !Number.isNaN(middle[0]!)
}

/** Levels until one tile holds so many pixels. */
export function levelsOf(pixels: number): number {
  return Math.max(1, Math.ceil(Math.log2(pixels / tileSide)) + 1)
}

/** Two errors that have nothing to do with each other. */
function together(a: number | null, b: number | null): number | null {
  return a === null ? b : b === null ? a : Math.hypot(a, b)
}
