import { expect, test } from 'vitest'
import { coverCases, coverFixture } from '../../../test/cover/cover-fixture.ts'
import { ExactBuffers } from '../../../test/cover/exact-buffer.ts'
import { quotedLanes, walkedLanes } from '../../../test/cover/walked-lanes.ts'
import { coverGrid, gapPolygons } from './index.ts'

test.each(coverCases)('on cells of 0.02 m the single gaps of %s are those of shapely too', (name) => {
  const { track, area, expected } = coverFixture(name)
  const grid = coverGrid([track], area, { ...expected, cellM: 0.02 })
  const gaps = gapPolygons(grid, { minGapM2: 4 })
  const listed = gaps.reduce((sum, gap) => sum + gap.areaM2, 0)
  const expectedM2 = expected.gapsOver4M2.reduce((sum, gap) => sum + gap, 0)
  // A neck narrower than a cell may join two gaps or part one.
  expect(Math.abs(gaps.length - expected.gapsOver4M2.length)).toBeLessThanOrEqual(1)
  expect(Math.abs(listed - expectedM2)).toBeLessThan(0.001 * expected.areaM2)
  expect(Math.abs(gaps[0]!.areaM2 - expected.largestGapM2)).toBeLessThan(0.001 * expected.areaM2)
})

test('100,000 fixes over 5.94 ha: share and gaps as by GEOS 3.13.0, every gap a sound polygon', async () => {
  const exact = await ExactBuffers.load()
  const { track, area } = walkedLanes({ ...quotedLanes, fixes: 100_000 })
  const options = { widthM: 1.2, maxJumpM: 10, maxJumpS: 60 }
  const truth = exact.cover([track], area, { ...options, quadrantSegments: 32, fixesAtATime: 200 })
  const grid = coverGrid([track], area, { ...options, cellM: 0.1 })
  const gaps = gapPolygons(grid, { minGapM2: 0 })
  expect(Math.abs(grid.coveredCells / grid.areaCells - truth.coveredM2 / truth.areaM2)).toBeLessThan(0.0003)
  const drawnM2 = gaps.reduce((sum, gap) => {
    const { areaM2, fault } = exact.measure(gap.polygon)
    expect(fault).toBeNull()
    return sum + areaM2
  }, 0)
  const missedM2 = truth.gapsM2.reduce((sum, gap) => sum + gap, 0)
  expect(Math.abs(drawnM2 - missedM2)).toBeLessThan(0.0003 * truth.areaM2)
})
