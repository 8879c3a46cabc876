import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { difference, terrainOf, turned } from '../../../test/relief/relief-fixture.ts'
import {
  type Edges,
  greyRows,
  isGreyView,
  measuredRows,
  type ReliefView,
  reachOf,
  type Terrain,
} from './index.ts'

const horizon = { radiusM: 4, directions: 8, zFactor: 1 }
const views = (edges: Edges): readonly ReliefView[] => [
  { view: 'hillshade', azimuthDeg: 300, altitudeDeg: 40, zFactor: 1.5, edges },
  { view: 'multi-hillshade', altitudeDeg: 45, zFactor: 1, edges },
  { view: 'slope', unit: 'degrees', zFactor: 1, edges },
  { view: 'slope', unit: 'percent', zFactor: 3, edges },
  { view: 'aspect', edges },
  { view: 'local-relief', shape: 'box', radiusM: 3, edges },
  { view: 'local-relief', shape: 'gaussian', radiusM: 2, edges },
  { view: 'sky-view', ...horizon, edges },
  { view: 'openness-up', ...horizon, edges },
  { view: 'openness-down', ...horizon, edges },
]
const named = (edges: Edges): [string, ReliefView][] =>
  views(edges).map((view) => [
    `${view.view}${'unit' in view ? ` in ${view.unit}` : ''}${'shape' in view ? `, ${view.shape}` : ''}`,
    view,
  ])

function rowsOf(terrain: Terrain, view: ReliefView, cuts: readonly number[]): Uint8Array | Float32Array {
  const size = terrain.values.length
  const out = isGreyView(view) ? new Uint8Array(size) : new Float32Array(size)
  for (const [i, from] of cuts.entries()) {
    const to = cuts[i + 1] ?? terrain.rows
    if (isGreyView(view)) greyRows(terrain, view, out as Uint8Array, from, to)
    else measuredRows(terrain, view, out as Float32Array, from, to)
  }
  return out
}
const pictureOf = (terrain: Terrain, view: ReliefView): Uint8Array | Float32Array =>
  rowsOf(terrain, view, [0])

/** Heights in steps of 1/16 m, some missing. */
const anyTerrain = (missing: number): fc.Arbitrary<Terrain> =>
  fc
    .record({
      columns: fc.integer({ min: 1, max: 19 }),
      rows: fc.integer({ min: 1, max: 17 }),
      cellY: fc.constantFrom(1, 0.5, 2),
    })
    .chain(({ columns, rows, cellY }) =>
      fc
        .array(
          fc.option(fc.integer({ min: 0, max: 160 }), {
            freq: missing > 0 ? Math.round(1 / missing) : 1e9,
            nil: null,
          }),
          {
            minLength: columns * rows,
            maxLength: columns * rows,
          },
        )
        .map((heights) => ({
          columns,
          rows,
          cellX: 1,
          cellY,
          values: Float32Array.from(heights, (height) => (height === null ? Number.NaN : height / 16)),
        })),
    )
const runs = { numRuns: 60 }

describe.each(['fill', 'leave'] as const)('edges: %s', (edges) => {
  test.each(named(edges))('%s: worked in parts gives what the whole gives', (_, view) => {
    fc.assert(
      fc.property(anyTerrain(0.1), fc.integer({ min: 1, max: 6 }), (terrain, step) => {
        const cuts = Array.from({ length: Math.ceil(terrain.rows / step) }, (_, i) => i * step)
        expect(rowsOf(terrain, view, cuts)).toEqual(pictureOf(terrain, view))
      }),
      runs,
    )
  })

  test.each(named(edges))(
    '%s: a part cut out with its reach as margin gives what the whole gives',
    (_, view) => {
      const whole = terrainOf(
        40,
        36,
        [1, 0.8],
        (x, y) => 3 * Math.sin(x / 3) + Math.cos(y / 2) + ((x * 7 + y * 13) % 5) / 9,
      )
      whole.values[20 * 40 + 22] = Number.NaN
      const reach = reachOf(whole, view)
      const [left, top, wide, high] = [14, 13, 12, 9]
      const columns = wide + 2 * reach.columns
      const rows = high + 2 * reach.rows
      const part: Terrain = { ...whole, columns, rows, values: new Float32Array(columns * rows) }
      for (let r = 0; r < rows; r++)
        for (let c = 0; c < columns; c++)
          part.values[r * columns + c] = whole.values[(top - reach.rows + r) * 40 + left - reach.columns + c]!
      const [all, some] = [pictureOf(whole, view), pictureOf(part, view)]
      for (let r = 0; r < high; r++)
        for (let c = 0; c < wide; c++) {
          const [a, b] = [
            all[(top + r) * 40 + left + c]!,
            some[(r + reach.rows) * columns + c + reach.columns]!,
          ]
          if (view.view === 'local-relief' && view.shape === 'gaussian' && !Number.isNaN(a))
            expect(b).toBeCloseTo(a, 6)
          else expect(b).toBe(a)
        }
    },
  )

  test.each(named(edges))('%s: a missing height is felt no farther than the reach', (_, view) => {
    const even = terrainOf(31, 29, [1, 1], (x, y) => Math.sin(x / 2) + Math.cos(y / 3))
    const holed: Terrain = { ...even, values: even.values.slice() }
    const [column, row] = [15, 14]
    holed.values[row * 31 + column] = Number.NaN
    const [before, after] = [pictureOf(even, view), pictureOf(holed, view)]
    const reach = reachOf(even, view)
    const far = (i: number): boolean =>
      Math.abs((i % 31) - column) > reach.columns || Math.abs(Math.floor(i / 31) - row) > reach.rows
    expect(difference(after, before, far)).toMatchObject({ most: 0, unlike: 0 })
    const without = [...after.keys()].filter((i) =>
      after instanceof Uint8Array ? after[i] === 0 : Number.isNaN(after[i]),
    )
    if (edges === 'fill') expect(without).toEqual([row * 31 + column])
    else {
      expect(without).toContain(row * 31 + column)
      expect(without.length).toBeGreaterThan(1)
    }
  })

  test.each(named(edges))('%s: a constant added to all heights changes nothing', (_, view) => {
    fc.assert(
      fc.property(anyTerrain(0.05), fc.integer({ min: -900, max: 900 }), (terrain, metres) => {
        const raised = { ...terrain, values: terrain.values.map((height) => height + metres) }
        const { most, unlike } = difference(pictureOf(raised, view), pictureOf(terrain, view))
        expect(unlike).toBe(0)
        expect(most || 0).toBeLessThan(1e-4)
      }),
      runs,
    )
  })
})

test.each(named('leave'))('%s: ground turned a quarter gives the picture turned a quarter', (_, view) => {
  fc.assert(
    fc.property(anyTerrain(0.03), (terrain) => {
      const aside = 'azimuthDeg' in view ? { ...view, azimuthDeg: view.azimuthDeg + 90 } : view
      const ours = pictureOf(turned(terrain), aside)
      const expected = turned({ ...terrain, values: Float32Array.from(pictureOf(terrain, view)) }).values
      const value = (i: number): number => (view.view === 'aspect' ? (expected[i]! + 90) % 360 : expected[i]!)
      for (let i = 0; i < ours.length; i++) {
        if (Number.isNaN(value(i))) expect(ours[i]).toBeNaN()
        // The blend of four lights is not alike on all sides: only its weights turn.
        else if (view.view !== 'multi-hillshade')
          expect(Math.abs(ours[i]! - value(i))).toBeLessThanOrEqual(isGreyView(view) ? 1 : 1e-4)
      }
    }),
    runs,
  )
})

describe('a tilted plane, 3 m up in 10 m towards east and 2 m down in 10 m towards north', () => {
  const plane = terrainOf(41, 37, [2, 1], (x, y) => 50 + 0.3 * x - 0.2 * y)
  const inner = (margin: number) => (i: number) => {
    const [row, column] = [Math.floor(i / 41), i % 41]
    return Math.min(row, column, 36 - row, 40 - column) >= margin
  }
  const spread = (view: ReliefView, margin: number): { low: number; high: number } => {
    const values = [...pictureOf(plane, view)].filter((_, i) => inner(margin)(i))
    return { low: Math.min(...values), high: Math.max(...values) }
  }

  test('has one slope and one aspect', () => {
    const slope = spread({ view: 'slope', unit: 'percent', zFactor: 1, edges: 'fill' }, 1)
    expect(slope.low).toBeCloseTo(100 * Math.hypot(0.3, 0.2), 3)
    expect(slope.high).toBeCloseTo(100 * Math.hypot(0.3, 0.2), 3)
    const aspect = spread({ view: 'aspect', edges: 'fill' }, 1)
    // It falls towards west and north: the bearing of (-0.3, 0.2).
    expect(aspect.low).toBeCloseTo(360 - (Math.atan2(0.3, 0.2) * 180) / Math.PI, 3)
    expect(aspect.high - aspect.low).toBeLessThan(1e-3)
  })

  test('keeps its slope along the edges of the raster but for the four corners', () => {
    const steep = pictureOf(plane, { view: 'slope', unit: 'percent', zFactor: 1, edges: 'fill' })
    const corners = new Set([0, 40, 36 * 41, 37 * 41 - 1])
    for (const [i, value] of steep.entries()) if (!corners.has(i)) expect(value).toBeCloseTo(36.0555, 3)
  })

  test.each(['box', 'gaussian'] as const)('has no local relief (%s)', (shape) => {
    const { low, high } = spread({ view: 'local-relief', shape, radiusM: 4, edges: 'leave' }, 9)
    expect(Math.max(-low, high)).toBeLessThan(1e-5)
  })

  test('is 90 degrees open, up and down', () => {
    for (const view of ['openness-up', 'openness-down'] as const) {
      const { low, high } = spread({ view, radiusM: 6, directions: 16, zFactor: 1, edges: 'leave' }, 6)
      expect(low).toBeCloseTo(90, 3)
      expect(high).toBeCloseTo(90, 3)
    }
  })

  test('one grey all over under one light', () => {
    const { low, high } = spread(
      { view: 'hillshade', azimuthDeg: 30, altitudeDeg: 50, zFactor: 1, edges: 'fill' },
      1,
    )
    expect(high).toBe(low)
  })
})

describe('wrong calls', () => {
  const flat = terrainOf(5, 4, [1, 1], () => 0)
  test.each([
    [
      'rows that are not there',
      () => measuredRows(flat, { view: 'aspect', edges: 'fill' }, new Float32Array(20), 2, 5),
    ],
    ['another size', () => measuredRows(flat, { view: 'aspect', edges: 'fill' }, new Float32Array(19), 0, 4)],
    [
      'odd directions',
      () => reachOf(flat, { view: 'sky-view', radiusM: 3, directions: 5, zFactor: 1, edges: 'fill' }),
    ],
    [
      'a radius below a cell',
      () => reachOf(flat, { view: 'sky-view', radiusM: 0.9, directions: 8, zFactor: 1, edges: 'fill' }),
    ],
    [
      'a box below a cell',
      () => reachOf(flat, { view: 'local-relief', shape: 'box', radiusM: 0.4, edges: 'fill' }),
    ],
    [
      'a light below',
      () => pictureOf(flat, { view: 'hillshade', azimuthDeg: 0, altitudeDeg: -1, zFactor: 1, edges: 'fill' }),
    ],
    ['cells of no size', () => pictureOf({ ...flat, cellX: 0 }, { view: 'aspect', edges: 'fill' })],
  ])('%s', (_, call) => {
    expect(call).toThrow(RangeError)
  })
})
