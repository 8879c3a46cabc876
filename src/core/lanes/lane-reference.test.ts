import * as fc from 'fast-check'
import { beforeAll, describe, expect, test } from 'vitest'
import { areaBounds, type PlanarArea } from '#core/geometry'
import { areaOf, box } from '../../../test/cover/planar-shapes.ts'
import { anyArea, starRing } from '../../../test/lanes/drawn-areas.ts'
import { ExactLines } from '../../../test/lanes/exact-lines.ts'
import { fewestTurns, type LaneWishes, lanePlan, spiralPlan } from './index.ts'

const wishes: LaneWishes = { spacingM: 2, bearing: 0, edges: true, from: null }

describe('GEOS 3.13.0 in geos-wasm 3.1.1', () => {
  let exact: ExactLines
  beforeAll(async () => {
    exact = await ExactLines.load()
  })

  test('the middle lines are cut as GEOS cuts them', () => {
    fc.assert(
      fc.property(anyArea, fc.double({ min: 1.5, max: 15, noNaN: true }), (area, spacingM) => {
        const plan = lanePlan(area, { ...wishes, spacingM, edges: false })
        const [xs, start] = middleLines(area, spacingM)
        const { insideM } = exact.lengths({ xy: xs, start }, area)
        expect(Math.abs(plan.lengthM - insideM)).toBeLessThan(1e-6 * (1 + insideM))
      }),
      { numRuns: 60 },
    )
  })

  test('lanes lie in the area and leave none of it farther than half a spacing', () => {
    fc.assert(
      fc.property(
        anyArea,
        fc.double({ min: 1.5, max: 30, noNaN: true }),
        fc.oneof(fc.constant(null), fc.double({ min: 0, max: 180, noNaN: true })),
        (area, spacingM, bearing) => {
          const plan = lanePlan(area, { ...wishes, spacingM, bearing })
          // Lines a little within the outline or without it by rounding: GEOS sees to 1e-10 of easting and northing.
          const { allM } = exact.lengths(plan, area)
          expect(allM).toBeCloseTo(plan.lengthM, 6)
          // The chords of the circles lie up to 0.03 % inside of them.
          const missed = exact.missedM2(plan, area, (spacingM / 2) * 1.0004)
          expect(missed).toBeLessThan(1e-6 * exact.areaM2(area))
        },
      ),
      { numRuns: 60 },
    )
  })

  test('a spiral lies in the area and covers the circle about it', () => {
    const area = areaOf(box(0, 0, 80, 60), box(10, 10, 20, 20))
    const plan = spiralPlan(area, { spacingM: 2, centre: [50, 30], radiusM: null })
    const { allM, insideM } = exact.lengths(plan, area)
    expect(Math.abs(allM - insideM)).toBeLessThan(1e-6 * allM)
    expect(exact.missedM2(plan, areaOf(starRing(50, 30, new Array(90).fill(28))), 1.02)).toBeLessThan(0.5)
  })

  test('for a convex area the fewest turns are over its least width', () => {
    const anyHull = fc
      .array(fc.double({ min: 0, max: 6.28, noNaN: true }), { minLength: 3, maxLength: 12 })
      .map((angles) =>
        [...new Set(angles.map((angle) => Math.round(angle * 100) / 100))].sort((a, b) => a - b),
      )
      .filter(({ length }) => length >= 3)
      .map((angles) => angles.flatMap((a) => [90 * Math.cos(a), 40 * Math.sin(a)]))
      .map((xy) => areaOf(Float64Array.from([...xy, xy[0]!, xy[1]!])))
    fc.assert(
      fc.property(anyHull, (area) => {
        const { acrossM, bearing } = fewestTurns(area.polygons[0]!)
        expect(acrossM).toBeCloseTo(exact.widthM(area), 6)
        expect(bearing).toBeGreaterThanOrEqual(0)
        expect(bearing).toBeLessThan(180)
      }),
    )
  })
})

/** Upright lines a spacing apart, centred on each polygon, for GEOS to cut: lanes at bearing 0. */
function middleLines(area: PlanarArea, spacingM: number): [Float64Array, Uint32Array] {
  const xy: number[] = []
  const start = [0]
  for (const polygon of area.polygons) {
    const { minX, minY, maxX, maxY } = areaBounds({ ...area, polygons: [polygon] })
    const count = Math.ceil((maxX - minX) / spacingM - 1e-9)
    for (let k = 0; k < count; k++) {
      const x = (minX + maxX) / 2 + (k - (count - 1) / 2) * spacingM
      xy.push(x, minY - 1, x, maxY + 1)
      start.push(xy.length / 2)
    }
  }
  return [Float64Array.from(xy), Uint32Array.from(start)]
}
