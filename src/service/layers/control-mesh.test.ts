import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { planarGrid } from '#core/geodesy'
import { placementFromLines } from '#core/imagery'
import type { StoredLayer } from '#store'
import { ostn15 } from '#work'
import { controlMesh, meshPixels, type PairMap, type TileSquare } from './control-mesh.ts'
import { groundSystem } from './ground-system.ts'
import { pixelMap } from './pixel-map.ts'

const grid = planarGrid(27_700, ostn15())
/** Ninestile: open sea in the Wash. */
const [easting, northing] = [558_500, 347_500]

/** A layer about Ninestile of so many pixels a metre, in the system of a code. */
function layerIn(epsg: number, pixelM: number): StoredLayer {
  const system = groundSystem({ epsg, systemText: null, placedBy: 'file' }, grid)!
  const xy = Float64Array.of(easting, northing, easting + 1, northing, easting, northing - 1)
  system.fromGrid(xy, xy)
  const [x, y, ex, ey, sx, sy] = xy as unknown as [number, number, number, number, number, number]
  const placing = placementFromLines({
    easting: x,
    northing: y,
    eastingPerColumn: (ex - x) * pixelM,
    northingPerColumn: (ey - y) * pixelM,
    eastingPerRow: (sx - x) * pixelM,
    northingPerRow: (sy - y) * pixelM,
  })
  return { columns: 10_000, rows: 10_000, placing, epsg, systemText: null, placedBy: 'file' } as StoredLayer
}

/** Every fifth pixel and row is compared with its exact place. */
const compared = 5

/** Greatest distance, in source pixels, between the mesh and the exact map over a tile. */
function greatest(toPixels: PairMap, square: TileSquare): { most: number; cells: number } {
  const { side, west, north, sideM } = square
  const mesh = controlMesh(toPixels, square, 0.1)
  const places = meshPixels(mesh, side)
  let most = 0
  for (let y = 0; y < side; y += compared) {
    for (let x = 0; x < side; x += compared) {
      const exact = Float64Array.of(west + ((x + 0.5) / side) * sideM, north - ((y + 0.5) / side) * sideM)
      toPixels(exact, exact)
      const at = 2 * (y * side + x)
      most = Math.max(most, Math.abs(exact[0]! - places[at]!), Math.abs(exact[1]! - places[at + 1]!))
    }
  }
  return { most, cells: mesh.cells }
}

describe('every pixel of a tile is within a tenth of a source pixel', () => {
  // The survey's own grid, others, geographic, and two that are reached only by a conversion with no way back.
  test.each([27_700, 4326, 4258, 32_631, 25_831, 2157, 3857, 3035])('EPSG:%i', (epsg) => {
    for (const [pixelM, metresAPixel] of [
      [0.05, 0.05],
      [0.25, 1],
      [1, 16],
    ] as const) {
      const { toPixels } = pixelMap(layerIn(epsg, pixelM), grid)!
      const sideM = 256 * metresAPixel
      for (const [west, north] of [
        [easting, northing],
        [easting + 700, northing - 2_000],
        // Across whole kilometres, where the shift grid bends.
        [easting + 400, northing - 400],
      ] as const) {
        expect(greatest(toPixels, { west, north, sideM, side: 256 }).most).toBeLessThan(0.1)
      }
    }
  })

  test('for any projective placing of an oblique photograph, up to its horizon', () => {
    const small = fc.double({ min: -3e-3, max: 3e-3, noNaN: true })
    fc.assert(
      fc.property(small, small, (g, h) => {
        const toPixels: PairMap = (xy, out) => {
          for (let i = 0; i < xy.length; i += 2) {
            const [x, y] = [xy[i]! - easting, northing - xy[i + 1]!]
            const w = 1 + g * x + h * y
            out[i] = w > 0.3 ? (4 * x + y) / w : Number.NaN
            out[i + 1] = w > 0.3 ? (4 * y - x) / w : Number.NaN
          }
        }
        const square = { west: easting, north: northing, sideM: 256, side: 256 }
        const mesh = controlMesh(toPixels, square, 0.1)
        if (mesh.nodes.some(Number.isNaN)) return
        expect(greatest(toPixels, square).most).toBeLessThan(0.1)
      }),
      { numRuns: 60 },
    )
  })
})

test('a mesh is no finer than it must be', () => {
  const { toPixels } = pixelMap(layerIn(4326, 0.25), grid)!
  expect(greatest(toPixels, { west: easting, north: northing, sideM: 64, side: 256 }).cells).toBe(8)
})

test('a conversion with one way only is undone to a micrometre', () => {
  for (const epsg of [3857, 3035, 28_992, 31_370, 2154]) {
    const system = groundSystem({ epsg, systemText: null, placedBy: 'file' }, planarGrid(32_631, null))!
    const places = Float64Array.of(420_000, 5_600_000, 420_001, 5_600_000, 520_000, 5_700_000)
    const there = new Float64Array(places.length)
    system.fromGrid(places, there)
    system.toGrid(there, there)
    for (const [i, value] of there.entries()) expect(Math.abs(value - places[i]!)).toBeLessThan(1e-6)
  }
})

test('a code that is not known has no place', () => {
  expect(groundSystem({ epsg: 1, systemText: null, placedBy: 'file' }, grid)).toBeNull()
  expect(groundSystem({ epsg: null, systemText: null, placedBy: 'world-file' }, grid)).toBeNull()
})
