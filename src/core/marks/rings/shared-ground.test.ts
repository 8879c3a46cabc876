import { expect, test } from 'vitest'
import { drawnRings } from '../../../../test/marks/drawn-ring.ts'
import { plannedSearches, ringSearches } from './ring-search.ts'
import { groundLength, readGround, writeGround } from './shared-ground.ts'

test('a ground that another thread reads is the one that was measured', () => {
  const raster = drawnRings(200, [{ x: 100, y: 100, radius: 12, width: 3 }], 10)
  const source = { columns: 200, rows: 200, read: () => raster }
  const settings = { minDiameterPx: 16, maxDiameterPx: 24, tone: 'either', most: 1 } as const
  const searches = ringSearches(source, settings)
  expect(searches).toHaveLength(2)
  plannedSearches(settings).forEach((planned, i) => {
    const numbers = new Float64Array(new SharedArrayBuffer(8 * groundLength(planned)))
    writeGround(searches[i]!.ground, numbers)
    expect(readGround(numbers)).toEqual(searches[i]!.ground)
  })
})
