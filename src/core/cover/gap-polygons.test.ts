import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { pointInPolygon, polygonArea, ringArea, ringMeetings } from '#core/geometry'
import { faultOf } from '../../../test/cover/planar-shapes.ts'
import { OutlineTracer } from './gap-outline.ts'
import { gapRuns } from './gap-runs.ts'
import { type CoverGrid, gapPolygons, outsideArea } from './index.ts'

/** A grid drawn in text: '.' not reached, 'x' reached, ' ' outside the area. Cells of 1 m, south-west corner at 0, 0. */
function drawn(...lines: string[]): CoverGrid {
  const value = { '.': 0, x: 1, ' ': outsideArea } as Record<string, number>
  return gridOf(
    lines[0]!.length,
    lines.flatMap((line) => [...line].map((mark) => value[mark]!)),
  )
}

function gridOf(columns: number, passes: readonly number[], cellM = 1): CoverGrid {
  const rows = passes.length / columns
  return {
    epsg: 27700,
    west: 0,
    north: rows * cellM,
    cellM,
    columns,
    rows,
    passes: Uint8Array.from(passes),
    areaCells: passes.filter((value) => value !== outsideArea).length,
    coveredCells: passes.filter((value) => value > 0 && value !== outsideArea).length,
    passSum: 0,
    passMax: 0,
  }
}

const anyGrid = fc
  .tuple(fc.integer({ min: 1, max: 24 }), fc.integer({ min: 1, max: 24 }), fc.integer({ min: 1, max: 5 }))
  .chain(([columns, rows, share]) =>
    fc.array(fc.nat(6), { minLength: columns * rows, maxLength: columns * rows }).map((marks) =>
      gridOf(
        columns,
        marks.map((mark) => (mark < share ? 0 : mark === 6 ? outsideArea : 1)),
      ),
    ),
  )

/** Gaps by flooding from cell to cell over sides and corners: the number of each cell's gap, -1 for none. */
function flooded({ passes, columns, rows }: CoverGrid): Int32Array {
  const gap = new Int32Array(passes.length).fill(-1)
  let gaps = 0
  for (let start = 0; start < passes.length; start++) {
    if (passes[start] !== 0 || gap[start] !== -1) continue
    const open = [start]
    gap[start] = gaps
    while (open.length > 0) {
      const cell = open.pop()!
      for (let r = Math.floor(cell / columns) - 1; r <= Math.floor(cell / columns) + 1; r++) {
        for (let c = (cell % columns) - 1; c <= (cell % columns) + 1; c++) {
          if (r < 0 || c < 0 || r >= rows || c >= columns) continue
          const next = r * columns + c
          if (passes[next] !== 0 || gap[next] !== -1) continue
          gap[next] = gaps
          open.push(next)
        }
      }
    }
    gaps++
  }
  return gap
}

test('runs are joined into the gaps that flooding finds', () => {
  fc.assert(
    fc.property(anyGrid, (grid) => {
      const expected = flooded(grid)
      const runs = gapRuns(grid)
      const found = new Int32Array(expected.length).fill(-1)
      for (let r = 0; r < grid.rows; r++) {
        for (let i = runs.rowStart[r]!; i < runs.rowStart[r + 1]!; i++)
          found.fill(runs.gap[i]!, r * grid.columns + runs.from[i]!, r * grid.columns + runs.to[i]!)
      }
      expect(found).toEqual(expected)
      const sizes = Array.from(
        { length: runs.cells.length },
        (_, gap) => expected.filter((each) => each === gap).length,
      )
      expect([...runs.cells]).toEqual(sizes)
    }),
    { numRuns: 400 },
  )
})

test('outlines before thinning hold the centres of their gap and no others', () => {
  fc.assert(
    fc.property(anyGrid, (grid) => {
      const gap = flooded(grid)
      const tracer = new OutlineTracer(grid)
      const rings = new Map<number, Float64Array[]>()
      for (let cell = 0; cell < gap.length; cell++) {
        const [row, column] = [Math.floor(cell / grid.columns), cell % grid.columns]
        if (gap[cell] === -1 || (column > 0 && gap[cell - 1] !== -1) || tracer.hasWalked(row, column))
          continue
        const { vertices } = tracer.follow(row, column)
        const ring = Float64Array.from([...vertices, vertices[0]!, vertices[1]!])
        rings.set(gap[cell]!, [...(rings.get(gap[cell]!) ?? []), ring])
      }
      for (const [number, outlines] of rings) {
        expect(ringMeetings(outlines, 1)).toEqual([])
        expect(outlines.filter((ring) => ringArea(ring) < 0)).toHaveLength(1)
        for (let cell = 0; cell < gap.length; cell++) {
          const [x, y] = [2 * (cell % grid.columns) + 1, 2 * Math.floor(cell / grid.columns) + 1]
          expect(pointInPolygon(x, y, { rings: outlines })).toBe(gap[cell] === number)
        }
      }
      expect(rings.size).toBe(Math.max(-1, ...gap) + 1)
    }),
    { numRuns: 200 },
  )
})

test('polygons are closed, sound, sorted, and have the area of their cells', () => {
  fc.assert(
    fc.property(anyGrid, fc.constantFrom(0, 2, 7), (grid, minGapM2) => {
      const gap = flooded(grid)
      const sizes = Array.from(
        { length: Math.max(-1, ...gap) + 1 },
        (_, number) => gap.filter((each) => each === number).length,
      )
      const gaps = gapPolygons(grid, { minGapM2 })
      expect(gaps.map(({ areaM2 }) => areaM2)).toEqual(
        sizes.filter((size) => size >= minGapM2).sort((a, b) => b - a),
      )
      for (const { areaM2, polygon } of gaps) {
        for (const ring of polygon.rings) expect([...ring.slice(-2)]).toEqual([...ring.slice(0, 2)])
        expect(ringMeetings(polygon.rings, 1)).toEqual([])
        // Where nothing may be thinned, each corner cut by half a cell both ways is an eighth of a cell.
        expect(Math.abs(polygonArea(polygon) - areaM2)).toBeLessThanOrEqual(0.5 * polygon.rings.length)
      }
    }),
    { numRuns: 400 },
  )
})

describe('a drawn grid', () => {
  test('cells that meet at a corner are one gap, as everywhere', () => {
    const gaps = gapPolygons(drawn('.xxx', 'x.xx', 'xxxx', 'xxx.'), { minGapM2: 0 })
    expect(gaps.map(({ areaM2 }) => areaM2)).toEqual([2, 1])
  })

  test('ground outside the area parts gaps and is in none', () => {
    const gaps = gapPolygons(drawn('.. ..', '.. ..'), { minGapM2: 0 })
    expect(gaps.map(({ areaM2 }) => areaM2)).toEqual([4, 4])
    expect(Math.max(...gaps[0]!.polygon.rings[0]!)).toBeLessThan(2.5)
  })

  test('covered ground within a gap is a hole, and a gap within that hole is a gap of its own', () => {
    const lines = ['.......', '.xxxxx.', '.x...x.', '.x...x.', '.x...x.', '.xxxxx.', '.......']
    const gaps = gapPolygons(drawn(...lines), { minGapM2: 0 })
    expect(gaps.map(({ areaM2, polygon }) => [areaM2, polygon.rings.length])).toEqual([
      [24, 2],
      [9, 1],
    ])
    expect(polygonArea(gaps[0]!.polygon)).toBeCloseTo(24, 9)
    expect(polygonArea(gaps[1]!.polygon)).toBeCloseTo(9, 9)
  })

  test('a long straight gap needs few corners', () => {
    const [gap] = gapPolygons(gridOf(1000, new Array(3000).fill(0)), { minGapM2: 0 })
    expect(gap!.polygon.rings[0]!.length / 2).toBeLessThan(12)
    expect(polygonArea(gap!.polygon)).toBeCloseTo(3000, 6)
  })

  test('a gap of just the least area is listed, a smaller one is not', () => {
    const grid = gridOf(7, [0, 0, 0, 1, 0, 0, 1], 0.1)
    expect(gapPolygons(grid, { minGapM2: 0.03 })).toHaveLength(1)
    expect(gapPolygons(grid, { minGapM2: 0.02 })).toHaveLength(2)
  })

  test('nothing missed gives no gaps', () => {
    expect(gapPolygons(drawn('xx', 'x '), { minGapM2: 0 })).toEqual([])
  })

  test('a least area below 0 is refused, a stop ends the work', () => {
    expect(faultOf(() => gapPolygons(drawn('.'), { minGapM2: -1 }))).toMatch(
      /^setting-out-of-range: .*not -1/,
    )
    expect(faultOf(() => gapPolygons(drawn('.'), { minGapM2: 0, stop: () => true }))).toMatch(/^cancelled: /)
  })
})
