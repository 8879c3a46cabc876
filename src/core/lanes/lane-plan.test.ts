import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { areaBounds, type PlanarArea, pointInPolygon } from '#core/geometry'
import { seededRandom, uniform } from '#core/random'
import { areaOf, box, faultOf } from '../../../test/cover/planar-shapes.ts'
import { anyArea, nearestEdgeM, nearestLineM, starRing } from '../../../test/lanes/drawn-areas.ts'
import { type LanePlan, type LaneWishes, lanePlan } from './index.ts'

const wishes: LaneWishes = { spacingM: 2, bearing: 0, edges: true, from: null }
const anyBearing = fc.oneof(
  fc.constant(null),
  fc.constantFrom(0, 45, 90),
  fc.double({ min: -400, max: 400, noNaN: true }),
)
const anySpacing = fc.oneof(fc.double({ min: 1.5, max: 20, noNaN: true }), fc.constantFrom(2, 5, 200))

const inside = (x: number, y: number, { polygons }: PlanarArea): boolean =>
  polygons.some((polygon) => pointInPolygon(x, y, polygon))

/** Places spread over an area, and places hard by its corners, where lanes are most likely to miss. */
function placesIn(area: PlanarArea, seed: number): [number, number][] {
  const random = seededRandom(seed)
  const { minX, minY, maxX, maxY } = areaBounds(area)
  const places: [number, number][] = []
  for (let i = 0; i < 300; i++) places.push([uniform(random, minX, maxX), uniform(random, minY, maxY)])
  for (const ring of area.polygons.flatMap(({ rings }) => rings))
    for (let i = 0; i + 3 < ring.length; i += 2)
      for (let k = 0; k < 6; k++) {
        const t = k < 3 ? 0 : uniform(random, 0, 1)
        const x = ring[i]! + t * (ring[i + 2]! - ring[i]!)
        const y = ring[i + 1]! + t * (ring[i + 3]! - ring[i + 1]!)
        places.push([x + uniform(random, -0.3, 0.3), y + uniform(random, -0.3, 0.3)])
      }
  return places.filter(([x, y]) => inside(x, y, area))
}

// A rounding error of eastings of some 500,000 m is 1e-10 m; turning and cutting add some of it.
const rounding = 1e-6

test('no ground is farther than half a spacing from a lane', () => {
  fc.assert(
    fc.property(anyArea, anySpacing, anyBearing, fc.nat(), (area, spacingM, bearing, seed) => {
      const plan = lanePlan(area, { ...wishes, spacingM, bearing })
      for (const [x, y] of placesIn(area, seed))
        expect(nearestLineM(x, y, plan.xy, plan.start)).toBeLessThan(spacingM / 2 + rounding)
    }),
    { numRuns: 200 },
  )
})

function placesOn({ xy, start }: Pick<LanePlan, 'xy' | 'start'>): [number, number][] {
  const places: [number, number][] = []
  for (let lane = 0; lane + 1 < start.length; lane++)
    for (let p = start[lane]!; p + 1 < start[lane + 1]!; p++)
      for (const t of [0, 0.13, 0.5, 0.77, 1])
        places.push([
          xy[2 * p]! + t * (xy[2 * p + 2]! - xy[2 * p]!),
          xy[2 * p + 1]! + t * (xy[2 * p + 3]! - xy[2 * p + 1]!),
        ])
  return places
}

test('no lane leaves the area', () => {
  fc.assert(
    fc.property(anyArea, anySpacing, anyBearing, (area, spacingM, bearing) => {
      const plan = lanePlan(area, { ...wishes, spacingM, bearing })
      for (const [x, y] of placesOn(plan))
        expect(inside(x, y, area) || nearestEdgeM(x, y, area) < rounding).toBe(true)
    }),
    { numRuns: 200 },
  )
})

test('no walk between lanes leaves the ground of a part, and none crosses a hole', () => {
  fc.assert(
    fc.property(anyArea, anySpacing, anyBearing, (area, spacingM, bearing) => {
      const plan = lanePlan(area, { ...wishes, spacingM, bearing })
      const holes = {
        ...area,
        polygons: area.polygons.flatMap(({ rings }) => rings.slice(1).map((ring) => ({ rings: [ring] }))),
      }
      for (let i = 0; i + 1 < plan.laneM.length; i++) {
        const end = plan.start[i + 1]!
        const way = Float64Array.from([
          ...plan.xy.subarray(2 * end - 2, 2 * end),
          ...plan.wayXy.subarray(2 * plan.wayStart[i]!, 2 * plan.wayStart[i + 1]!),
          ...plan.xy.subarray(2 * end, 2 * end + 2),
        ])
        const apart = plan.pieces[plan.piece[i]!]!.polygon !== plan.pieces[plan.piece[i + 1]!]!.polygon
        for (const [x, y] of placesOn({ xy: way, start: Uint32Array.of(0, way.length / 2) })) {
          if (apart) expect(inside(x, y, holes) && nearestEdgeM(x, y, area) > 1e-4).toBe(false)
          else expect(inside(x, y, area) || nearestEdgeM(x, y, area) < 1e-4).toBe(true)
        }
        if (!apart) expect(plan.outsideM[i]).toBe(0)
      }
    }),
    { numRuns: 100 },
  )
})

/** Rings on a lattice that cross and touch themselves as they like: edges lie exactly on middle lines and between strips. */
const anyTangle: fc.Arbitrary<PlanarArea> = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 12 }), fc.integer({ min: 0, max: 12 })), {
    minLength: 4,
    maxLength: 12,
  })
  .map((corners) => areaOf(Float64Array.from([...corners, corners[0]!].flat())))
const anyCoverage = (area: PlanarArea, spacingM: number, bearing: number, seed: number): void => {
  const plan = lanePlan(area, { ...wishes, spacingM, bearing })
  for (const [x, y] of placesIn(area, seed))
    expect(nearestLineM(x, y, plan.xy, plan.start)).toBeLessThan(spacingM / 2 + rounding)
  for (const [x, y] of placesOn(plan))
    expect(inside(x, y, area) || nearestEdgeM(x, y, area) < rounding).toBe(true)
}

test('outlines that cross themselves are covered by the even-odd rule, and not left', () => {
  const hasGround = (area: PlanarArea): boolean => placesIn(area, 1).length > 30
  fc.assert(
    fc.property(
      anyTangle.filter(hasGround),
      fc.constantFrom(1, 2, 3, 4),
      fc.constantFrom(0, 45, 90, 135, 20),
      fc.nat(),
      anyCoverage,
    ),
    { numRuns: 200 },
  )
})

test('an island in a hole, and a ring beside its outline, are ground as the even-odd rule has it', () => {
  const island = areaOf(
    starRing(0, 0, [40, 38, 41, 39, 40]),
    starRing(0, 0, [25, 24, 26, 25]),
    starRing(0, 0, [9, 12, 10, 8, 11, 9]),
  )
  const beside = areaOf(starRing(0, 0, [20, 24, 22]), starRing(60, 3, [19, 24, 26, 21]))
  for (let seed = 0; seed < 20; seed++)
    for (const area of [island, beside]) anyCoverage(area, 3 + (seed % 4), 9 * seed, seed)
})

test('an edge on a middle line that rounding tilts by the last bit', () => {
  const corners = [6.5, 7.5, 3.5, 9, 0, 5, 5, 9.5, 3, 1, 1, 9, 7.5, 2.5, 8, 4, 5, 8, 7, 9, 3.5, 7.5, 6.5, 7.5]
  for (let seed = 0; seed < 20; seed++) anyCoverage(areaOf(Float64Array.from(corners)), 1, 135, seed)
})

test('a rectangle is walked to and fro', () => {
  const plan = lanePlan(areaOf(box(0, 0, 40, 10)), wishes)
  expect(plan.laneM).toEqual(new Float64Array(20).fill(10))
  expect([...plan.xy.subarray(0, 8)]).toEqual([39, 0, 39, 10, 37, 10, 37, 0].map((v) => v))
  expect(plan.wayM.subarray(0, 19)).toEqual(new Float64Array(19).fill(2))
})

test.each([
  [
    'no spacing',
    areaOf(box(0, 0, 9, 9)),
    { spacingM: 0 },
    'setting-out-of-range: The spacing of lanes must be above 0 m',
  ],
  [
    'bearing that is none',
    areaOf(box(0, 0, 9, 9)),
    { bearing: Number.NaN },
    'setting-out-of-range: The bearing must be a number',
  ],
  ['no area', { epsg: 27_700, polygons: [] }, {}, 'no-area'],
  [
    'a line',
    areaOf(Float64Array.of(0, 0, 5, 5, 9, 9, 0, 0)),
    {},
    'area-invalid: The outline of the search area encloses no ground',
  ],
  ['a corner without a place', areaOf(Float64Array.of(0, 0, Number.NaN, 5, 9, 9, 0, 0)), {}, 'area-invalid'],
  [
    'lanes by the million',
    areaOf(box(0, 0, 9e6, 9e6)),
    { spacingM: 0.01 },
    'setting-out-of-range: Lanes 0.01 m apart',
  ],
] as [string, PlanarArea, Partial<LaneWishes>, string][])(
  '%s is told in a sentence',
  (_, area, more, sentence) => {
    expect(faultOf(() => lanePlan(area, { ...wishes, ...more }))).toContain(sentence)
  },
)
