import { beforeAll, describe, expect, test } from 'vitest'
import type { PlanarArea } from '#core/geometry'
import type { PlanarTrack } from '#core/track'
import { coverCases, coverFixture } from '../../../test/cover/cover-fixture.ts'
import { ExactBuffers } from '../../../test/cover/exact-buffer.ts'
import { areaOf, box, track } from '../../../test/cover/planar-shapes.ts'
import { coverChance, coverFigures, coverGrid, gapPolygons, prepareCover } from './index.ts'

/** Of the search area: what the project promises at cells of 0.1 m. The cases are met ten times closer. */
const tolerance = 0.001

describe('shapely 1.8.5 (GEOS 3.11.1), fixtures/cover', () => {
  test.each(coverCases)('%s', (name) => {
    const { track, area, expected } = coverFixture(name)
    const { widthM, maxJumpM, maxJumpS } = expected
    const plan = prepareCover([track], area, { widthM, cellM: 0.1, maxJumpM, maxJumpS })
    const grid = coverGrid([track], area, plan.options)
    const gaps = gapPolygons(grid, { minGapM2: 0 })
    const figures = coverFigures({ plan, grid, gaps, minGapM2: 0 })
    const near = tolerance * expected.areaM2
    expect(figures.areaM2).toBeCloseTo(expected.areaM2, 6)
    expect(figures.distanceM).toBeCloseTo(expected.distanceM, 6)
    expect(figures.walkingS).toBe(expected.walkingS)
    expect(Math.abs(figures.coveredShare - expected.coveredShare)).toBeLessThan(tolerance)
    expect(Math.abs(figures.coveredM2 - expected.coveredM2)).toBeLessThan(near)
    expect(Math.abs(figures.gaps.areaM2 - expected.gapsM2)).toBeLessThan(near)
    const listed = gaps.reduce((sum, gap) => sum + gap.areaM2, 0)
    expect(Math.abs(listed - expected.gapsM2)).toBeLessThan(near)
    expect(Math.abs(figures.passes.mean - expected.meanPasses)).toBeLessThan(tolerance)
  })
})

describe('chances without an error, walked slowly, are the exact buffers of shapely too', () => {
  test.each(coverCases)('%s', (name) => {
    const { track, area, expected } = coverFixture(name)
    // A hundred times slower: every leg below half of coil times rate, where nothing is left out to the edge of the arc.
    const slow = { ...track, time: track.time!.map((t) => 100 * (t - track.time![0]!)) }
    const { expectedShare, share95 } = coverChance([slow], area, {
      widthM: expected.widthM,
      maxJumpM: expected.maxJumpM,
      maxJumpS: 100 * expected.maxJumpS,
      cellM: 0.1,
      errorM: 0,
      coilM: 0.25,
      rateHz: 1,
    })
    expect(Math.abs(expectedShare - expected.coveredShare)).toBeLessThan(tolerance)
    expect(Math.abs(share95 - expected.coveredShare)).toBeLessThan(tolerance)
  })
})

describe('GEOS 3.13.0 in geos-wasm 3.1.1', () => {
  let exact: ExactBuffers
  beforeAll(async () => {
    exact = await ExactBuffers.load()
  })

  // Lanes a little aslant, as any walked lane is: see "Lanes along the grid" in docs/methods/cover.md.
  const comb = Array.from({ length: 80 }, (_, i) => {
    const x = 5 + 2 * Math.floor(i / 2)
    const y = i % 4 === 0 || i % 4 === 3 ? 4 : 76
    return [x + 0.03 * y, y - 0.03 * x]
  })
  const spiral = Array.from({ length: 900 }, (_, i) => [
    40 + i * 0.045 * Math.cos(i * 0.09),
    40 + i * 0.045 * Math.sin(i * 0.09),
  ])
  const star = Array.from({ length: 60 }, (_, i) => [
    40 + 35 * Math.cos(i * 2.6),
    40 + 35 * Math.sin(i * 2.6),
  ])
  const field = areaOf(box(0, 0, 80, 80))
  const ringed = areaOf(
    Float64Array.of(2, 3, 78, 1, 79, 50, 60, 77, 3, 70, 2, 3),
    box(20, 20, 35, 41),
    Float64Array.of(50, 45, 62, 40, 58, 60, 50, 45),
  )
  const parts: PlanarArea = {
    epsg: 27700,
    polygons: [
      { rings: [box(1.3, 1.7, 30.1, 77.2)] },
      { rings: [Float64Array.of(33, 5, 78, 12, 70, 74, 35, 66, 33, 5), box(44, 30, 52, 38)] },
    ],
  }

  const cases: [string, PlanarTrack[], PlanarArea, number][] = [
    ['lanes', [track(comb.flat())], field, 1.5],
    ['lanes over holes', [track(comb.flat())], ringed, 1.7],
    ['lanes over several parts', [track(comb.flat())], parts, 1.31],
    ['a spiral', [track(spiral.flat())], field, 2.2],
    ['crossing lines and sharp turns', [track(star.flat())], ringed, 0.9],
    ['a broken walk with lone fixes', [track(spiral.flat(), [0, 3, 4, 100, 101, 102, 500])], parts, 3],
    ['several walks', [track(spiral.flat()), track(star.flat()), track([11, 12])], parts, 0.63],
    ['a swath wider than the field', [track([40, 40, 41, 41])], field, 90],
    ['a walk outside', [track([-30, -30, -20, 110])], field, 30],
  ]
  test.each(cases)('%s', (_, tracks, area, widthM) => {
    const limits = { maxJumpM: 100, maxJumpS: 60 }
    const wanted = { ...limits, widthM, quadrantSegments: 64, fixesAtATime: 200 }
    const { areaM2, coveredM2, gapsM2 } = exact.cover(tracks, area, wanted)
    const plan = prepareCover(tracks, area, { ...limits, widthM, cellM: 0.1 })
    const grid = coverGrid(tracks, area, plan.options)
    const gaps = gapPolygons(grid, { minGapM2: 0 })
    const figures = coverFigures({ plan, grid, gaps, minGapM2: 0 })
    expect(figures.areaM2).toBeCloseTo(areaM2, 6)
    const near = tolerance * areaM2
    expect(Math.abs(figures.coveredM2 - coveredM2)).toBeLessThan(near)
    const missedM2 = gapsM2.reduce((sum, gap) => sum + gap, 0)
    expect(Math.abs(figures.gaps.areaM2 - missedM2)).toBeLessThan(near)
    let drawnM2 = 0
    for (const gap of gaps) {
      const drawn = exact.measure(gap.polygon)
      expect(drawn.fault).toBeNull()
      expect(Math.abs(drawn.areaM2 - gap.areaM2)).toBeLessThan(0.02)
      drawnM2 += drawn.areaM2
    }
    expect(Math.abs(drawnM2 - missedM2)).toBeLessThan(near)
  })
})
