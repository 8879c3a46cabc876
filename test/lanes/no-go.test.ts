import { readFileSync } from 'node:fs'
import * as fc from 'fast-check'
import initGeosJs from 'geos-wasm'
import { expect, test } from 'vitest'
import { type PlanarArea, type Polygon, pointInPolygon, polygonArea } from '#core/geometry'
import { lanePlan } from '#core/lanes'
import { GroundOverlay } from '#core/overlay'
import { anyArea, nearestEdgeM, starRing } from './drawn-areas.ts'

const geos = await initGeosJs({ noticeHandler: () => {} })
const overlay = new GroundOverlay(geos)

const areaOf = (polygons: readonly Polygon[]): number =>
  polygons.reduce((sum, polygon) => sum + polygonArea(polygon), 0)
const flat = (rings: readonly (readonly number[])[][]): Polygon => ({
  rings: rings.map((ring) => Float64Array.from(ring.flat())),
})
const box = (west: number, south: number, width: number, height = width): Polygon => ({
  rings: [
    Float64Array.of(
      ...[west, south, west + width, south, west + width, south + height],
      ...[west, south + height, west, south],
    ),
  ],
})

interface Case {
  readonly ground: number[][][]
  readonly parts: number[][][][]
  readonly areaM2: number
  readonly polygons: number
  readonly innerM2: number
}

test('areas are those of Shapely', () => {
  const file = new URL('../../fixtures/lanes/no-go/expected.json', import.meta.url)
  const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { cases: Case[] }
  expect(cases).toHaveLength(16)
  for (const { ground, parts, areaM2, polygons, innerM2 } of cases) {
    const left = overlay.without([flat(ground)], parts.map(flat))
    // Both are exact but for the rounding of places, 1e-10 m at such eastings, along some 500 m of edges.
    expect(Math.abs(areaOf(left) - areaM2)).toBeLessThan(1e-6)
    expect(left).toHaveLength(polygons)
    expect(Math.abs(areaOf(overlay.grown([flat(ground)], -3)) - innerM2)).toBeLessThan(1e-6)
  }
})

const anyParts = fc.array(
  fc
    .tuple(
      fc.double({ min: -60, max: 60, noNaN: true }),
      fc.double({ min: -60, max: 60, noNaN: true }),
      fc.array(fc.double({ min: 4, max: 30, noNaN: true }), { minLength: 3, maxLength: 9 }),
    )
    .map(([x, y, radii]): Polygon => ({ rings: [starRing(558_000 + x, 347_000 + y, radii)] })),
  { minLength: 1, maxLength: 3 },
)

/** How deep places along a line lie inside a polygon, metres, at the deepest. */
function deepest(xy: ArrayLike<number>, part: Polygon): number {
  let most = 0
  const of: PlanarArea = { epsg: 27_700, polygons: [part] }
  for (let i = 0; i + 3 < xy.length; i += 2)
    for (let k = 0; k <= 8; k++) {
      const x = xy[i]! + (k / 8) * (xy[i + 2]! - xy[i]!)
      const y = xy[i + 1]! + (k / 8) * (xy[i + 3]! - xy[i + 1]!)
      if (pointInPolygon(x, y, part)) most = Math.max(most, nearestEdgeM(x, y, of))
    }
  return most
}

test('no lane enters ground that was left out, nor comes nearer than the buffer', () => {
  fc.assert(
    fc.property(anyArea, anyParts, fc.constantFrom(0, 2.5), (area, parts, bufferM) => {
      const taken = bufferM > 0 ? overlay.grown(parts, bufferM) : parts
      const polygons = overlay.without(area.polygons, taken)
      if (areaOf(polygons) < 50) return
      const { xy, start } = lanePlan(
        { ...area, polygons },
        { spacingM: 4, bearing: null, edges: true, from: null },
      )
      for (let lane = 0; lane + 1 < start.length; lane++) {
        const line = xy.subarray(2 * start[lane]!, 2 * start[lane + 1]!)
        for (const part of taken) expect(deepest(line, part)).toBeLessThan(1e-6)
      }
    }),
    { numRuns: 40 },
  )
})

test('what no part comes near is given back as it is, and what parts cover is gone', () => {
  const ground = [box(0, 0, 100), box(500, 0, 10)]
  expect(overlay.without(ground, [box(300, 0, 10)])).toEqual(ground)
  const cut = overlay.without(ground, [box(490, -10, 50), box(90, 90, 20)])
  expect(areaOf(cut)).toBeCloseTo(10_000 - 100, 9)
  expect(overlay.without([box(0, 0, 10)], [box(-5, -5, 20)])).toEqual([])
  // A part with an island keeps the island.
  const moat = { rings: [...box(20, 20, 60).rings, ...box(40, 40, 20).rings] }
  expect(overlay.without([box(0, 0, 100)], [moat])).toHaveLength(2)
})

test('outlines that cross themselves, lie on one another or have no ground are cut all the same', () => {
  const bow: Polygon = { rings: [Float64Array.of(0, 0, 40, 40, 40, 0, 0, 40, 0, 0)] }
  // The even-odd rule gives the bow two triangles of 400 m² each.
  expect(areaOf(overlay.without([bow], [box(-10, -10, 30, 60)]))).toBeCloseTo(400, 9)
  expect(areaOf(overlay.without([box(0, 0, 100)], [bow]))).toBeCloseTo(10_000 - 800, 9)
  const flatRing: Polygon = { rings: [Float64Array.of(0, 0, 10, 0, 5, 0, 0, 0)] }
  expect(areaOf(overlay.without([box(0, 0, 100)], [flatRing]))).toBeCloseTo(10_000, 9)
  const nowhere: Polygon = { rings: [Float64Array.of(0, 0, Number.NaN, 0, 5, 5, 0, 0)] }
  expect(areaOf(overlay.without([box(0, 0, 100)], [box(0, 0, 100), nowhere]))).toBe(0)
  const open: Polygon = { rings: [Float64Array.of(10, 10, 20, 10, 20, 20, 10, 20)] }
  expect(areaOf(overlay.without([box(0, 0, 100)], [open, open]))).toBeCloseTo(9900, 9)
})

test('the memory of GEOS does not grow from call to call', () => {
  const many = [
    {
      rings: [
        starRing(
          0,
          0,
          Array.from({ length: 20_000 }, (_, i) => 90 + (i % 2) / 100),
        ),
      ],
    },
  ]
  const once = (): void => {
    overlay.without(many, [box(0, 0, 200)])
  }
  for (let i = 0; i < 3; i++) once()
  const before = geos.Module.HEAPU8.length
  for (let i = 0; i < 30; i++) once()
  // A leak of one copy of the outline a call would be 10 MB, of all that a call makes some 50.
  expect(geos.Module.HEAPU8.length).toBe(before)
})
