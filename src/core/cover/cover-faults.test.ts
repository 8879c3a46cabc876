import { describe, expect, test } from 'vitest'
import { areaOf, box, faultOf, track } from '../../../test/cover/planar-shapes.ts'
import { type CoverOptions, chooseCell, coverGrid } from './index.ts'

const options = (widthM: number, cellM: number): CoverOptions => ({
  maxJumpM: 1000,
  maxJumpS: 60,
  widthM,
  cellM,
})

describe('faults, in one sentence each', () => {
  const field = areaOf(box(0, 0, 10, 10))
  const walk = track([0, 0, 5, 5])

  test.each([
    ['no-area', [walk], { epsg: 27700, polygons: [] }, options(1, 0.5), /There is no search area/],
    ['no-track', [], field, options(1, 0.5), /There is no walked track/],
    ['no-track', [track([])], field, options(1, 0.5), /There is no walked track/],
    ['mixed-grids', [walk], { ...field, epsg: 32630 }, options(1, 0.5), /EPSG:27700.*EPSG:32630/],
    ['setting-out-of-range', [walk], field, options(0, 0.5), /wider than 0 m/],
    ['setting-out-of-range', [walk], field, options(-1.5, 0.5), /not -1.5 m/],
    ['setting-out-of-range', [walk], field, options(1, 0), /A cell must be 0.01 m or more/],
    ['setting-out-of-range', [walk], areaOf(box(0.1, 0.1, 0.2, 0.2)), options(1, 5), /too coarse/],
    [
      'area-invalid',
      [walk],
      areaOf(Float64Array.of(0, 0, 1, 1, 0, 0)),
      options(1, 0.5),
      /encloses no ground/,
    ],
    ['area-invalid', [walk], areaOf(box(0, 0, Number.NaN, 1)), options(1, 0.5), /corner without a place/],
    ['raster-too-large', [walk], areaOf(box(0, 0, 10_000, 10_000)), options(1, 0.1), /Use cells of/],
  ])('%s', (code, tracks, area, wanted, sentence) => {
    const said = faultOf(() => coverGrid(tracks, area, wanted))
    expect(said.startsWith(`${code}: `)).toBe(true)
    expect(said).toMatch(sentence)
  })

  test('a stop between tiles ends the work', () => {
    expect(faultOf(() => coverGrid([walk], field, options(1, 0.5), undefined, () => true))).toContain(
      'cancelled',
    )
  })

  test('progress runs from 0 to 1', () => {
    const told: number[] = []
    coverGrid([walk], areaOf(box(0, 0, 10, 400)), options(1, 0.5), (done) => told.push(done))
    expect(told[0]).toBe(0)
    expect(told.at(-1)).toBe(1)
    expect(told).toEqual(told.toSorted((a, b) => a - b))
  })
})

describe('the cell is chosen by the size of the area', () => {
  const square = (side: number) => ({ minX: 0, minY: 0, maxX: side, maxY: side })

  test('0.1 m while the grid is comfortable, then coarser', () => {
    expect(chooseCell(square(800), null)).toEqual({ cellM: 0.1, cells: 64_000_000 })
    expect(chooseCell(square(2000), null).cellM).toBe(0.2)
    expect(chooseCell(square(10_000), null).cellM).toBe(1)
  })

  test('a wish is granted up to the hard limit; 10,000 ha at 0.1 m is refused with an offer that fits', () => {
    expect(chooseCell(square(1900), 0.1).cellM).toBe(0.1)
    const refused = faultOf(() => chooseCell(square(10_000), 0.1))
    expect(refused).toBe(
      'raster-too-large: Cells of 0.1 m over this area (10 km by 10 km from edge to edge) would make 10 000 million cells; ' +
        'at most 400 million can be held. Use cells of 0.5 m or more, or a smaller area.',
    )
    expect(chooseCell(square(10_000), 0.5).cells).toBe(400_000_000)
    expect(faultOf(() => chooseCell(square(2_000_000), null))).toContain('too wide for any cell up to 50 m')
  })
})
