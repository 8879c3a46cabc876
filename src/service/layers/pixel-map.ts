import type { PlanarGrid } from '#core/geodesy'
import { type Bounds, boundsOf } from '#core/geometry'
import { groundAt, type Placement, pictureAt } from '#core/imagery'
import type { StoredLayer } from '#store'
import { type GroundSystem, groundSystem } from './ground-system.ts'

/** What of a layer says where its pixels lie. */
export type PlacedFacts = Pick<
  StoredLayer,
  'columns' | 'rows' | 'placing' | 'epsg' | 'systemText' | 'placedBy' | 'expectedErrorM'
>

/** The way between a layer's pixels (from the outer corner of the upper left one) and the survey's grid, pairs in place or into `out`. */
export interface PixelMap {
  readonly columns: number
  readonly rows: number
  readonly system: GroundSystem
  toPixels(xy: Float64Array, out: Float64Array): void
  toGrid(pixels: Float64Array, out: Float64Array): void
}

/** Null where the layer is not placed yet or its system is not known. */
export function pixelMap(layer: PlacedFacts, grid: PlanarGrid): PixelMap | null {
  const { placing, columns, rows } = layer
  const system = placing && groundSystem(layer, grid)
  return system && { columns, rows, system, ...ways(placing, system) }
}

function ways(placing: Placement, system: GroundSystem): Pick<PixelMap, 'toPixels' | 'toGrid'> {
  return {
    toPixels: (xy, out) => {
      system.fromGrid(xy, out)
      for (let i = 0; i + 1 < out.length; i += 2) {
        const [column, row] = pictureAt(placing, out[i]!, out[i + 1]!)
        out[i] = column
        out[i + 1] = row
      }
    },
    toGrid: (pixels, out) => {
      for (let i = 0; i + 1 < pixels.length; i += 2) {
        const [x, y] = groundAt(placing, pixels[i]!, pixels[i + 1]!)
        out[i] = x
        out[i + 1] = y
      }
      system.toGrid(out, out)
    },
  }
}

/** Points along each side of the outline whose places make its bounds. */
const perSide = 32

/** Where a layer lies in the survey's grid; null where no part of its outline does. */
export function groundBounds(map: PixelMap): Bounds | null {
  const { columns, rows } = map
  const outline: number[] = []
  for (let i = 0; i <= perSide; i++) {
    const [x, y] = [(i / perSide) * columns, (i / perSide) * rows]
    outline.push(x, 0, x, rows, 0, y, columns, y)
  }
  const xy = Float64Array.from(outline)
  map.toGrid(xy, xy)
  const bounds = boundsOf(xy)
  return bounds.minX <= bounds.maxX ? bounds : null
}

/** How one pixel lies on the ground: metres east and north that one column to the right, and one row up, add. */
export interface PixelAxes {
  readonly column: readonly [number, number]
  readonly up: readonly [number, number]
}

/** At the middle of the layer, over a hundredth of it; null where the grid does not reach that. */
export function pixelAxes({ columns, rows, toGrid }: PixelMap): PixelAxes | null {
  const [c, r] = [columns / 2, rows / 2]
  const [dc, dr] = [columns / 100, rows / 100]
  const xy = Float64Array.of(c - dc, r, c + dc, r, c, r + dr, c, r - dr)
  toGrid(xy, xy)
  if (xy.some(Number.isNaN)) return null
  return {
    column: [(xy[2]! - xy[0]!) / (2 * dc), (xy[3]! - xy[1]!) / (2 * dc)],
    up: [(xy[6]! - xy[4]!) / (2 * dr), (xy[7]! - xy[5]!) / (2 * dr)],
  }
}

/** Side of the square that has a pixel's ground area, metres. */
export function pixelSize({ column, up }: PixelAxes): number {
  return Math.sqrt(Math.abs(column[0] * up[1] - column[1] * up[0]))
}
