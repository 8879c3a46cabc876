import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { ExactBuffers } from '../../../test/cover/exact-buffer.ts'
import { areaOf, box } from '../../../test/cover/planar-shapes.ts'
import { ringMeetings, segmentsMeet, validateArea } from './index.ts'

const ring = (...xy: number[]): Float64Array => Float64Array.of(...xy, xy[0]!, xy[1]!)

describe('two segments', () => {
  test.each([
    ['crossing', [0, 0, 2, 2, 0, 2, 2, 0]],
    ['none', [0, 0, 1, 1, 3, 0, 2, 5]],
    ['none', [0, 0, 1, 0, 0, 1, 1, 1]],
    ['none', [0, 0, 1, 0, 2, 0, 3, 0]],
    ['touch', [0, 0, 2, 0, 1, 0, 1, 5]],
    ['touch', [1, 0, 1, 5, 0, 0, 2, 0]],
    ['touch', [0, 0, 1, 0, 1, 0, 2, 0]],
    ['touch', [0, 0, 1, 1, 1, 1, 2, 0]],
    ['overlap', [0, 0, 2, 0, 1, 0, 3, 0]],
    ['overlap', [0, 0, 9, 0, 4, 0, 5, 0]],
    ['overlap', [4, 0, 5, 0, 9, 0, 0, 0]],
  ] as const)('%s', (how, [ax, ay, bx, by, cx, cy, dx, dy]) => {
    expect(segmentsMeet(ax, ay, bx, by, cx, cy, dx, dy)).toBe(how)
    expect(segmentsMeet(cx, cy, dx, dy, ax, ay, bx, by)).toBe(how)
    expect(segmentsMeet(bx, by, ax, ay, cx, cy, dx, dy)).toBe(how)
  })
})

test('rings in bins meet as they do compared each with each', () => {
  const anyRing = fc
    .array(fc.tuple(fc.nat(30), fc.nat(30)), { minLength: 24, maxLength: 60 })
    .map((pairs) => ring(...pairs.flat().map((value) => value + 600_000)))
  fc.assert(
    fc.property(anyRing, (only) => {
      const places = (found: { x: number; y: number }[]): string[] =>
        [...new Set(found.map(({ x, y }) => `${x.toFixed(6)} ${y.toFixed(6)}`))].sort()
      const pairs: { x: number; y: number }[] = []
      // Two edges at a time are too few to be put in bins.
      for (let i = 0; i + 3 < only.length; i += 2) {
        for (let j = 0; j < i; j += 2) {
          const neighbours = i - j === 2 || (j === 0 && i + 4 >= only.length)
          const found = ringMeetings([only.slice(j, j + 4), only.slice(i, i + 4)], 9)
          pairs.push(...found.filter(({ how }) => how !== 'touch' || !neighbours))
        }
      }
      const repeated = only.some((x, i) => i > 1 && x === only[i - 2] && only[i ^ 1] === only[(i - 2) ^ 1])
      fc.pre(!repeated)
      expect(places(ringMeetings([only], 1e6))).toEqual(places(pairs))
    }),
  )
})

test('a polygon is sound exactly where GEOS 3.13.0 says so', async () => {
  const exact = await ExactBuffers.load()
  const anyRing = fc
    .array(fc.tuple(fc.nat(12), fc.nat(12)), { minLength: 3, maxLength: 9 })
    .map((pairs) => ring(...pairs.flat()))
  fc.assert(
    fc.property(anyRing, (outline) => {
      const { fault } = exact.measure({ rings: [outline] })
      const flaws = validateArea(areaOf(outline))
      expect(flaws.length === 0, `${fault} ${flaws[0]?.text}`).toBe(fault === null)
    }),
    { numRuns: 2000 },
  )
})

describe('flaws are told with their place', () => {
  const texts = (...rings: Float64Array[]): string[] => validateArea(areaOf(...rings)).map(({ text }) => text)

  test('a sound area has none, whatever its winding', () => {
    expect(texts(box(0, 0, 10, 10), box(2, 2, 4, 4))).toEqual([])
    expect(texts(ring(0, 0, 0, 10, 10, 10, 10, 0))).toEqual([])
  })

  test('crossing itself', () => {
    const bow = ring(561_000, 342_000, 561_010, 342_010, 561_010, 342_000, 561_000, 342_010)
    expect(texts(bow)).toEqual(['The outline crosses itself at easting 561005.00, northing 342005.00.'])
  })

  test('touching itself, running back along itself, enclosing nothing', () => {
    expect(texts(ring(0, 0, 10, 0, 10, 10, 5, 0, 0, 10))).toEqual([
      'The outline touches itself at easting 5.00, northing 0.00.',
    ])
    expect(texts(ring(0, 0, 10, 0, 14, 0, 10, 0, 10, 10)).join()).toContain('runs back along itself')
    expect(texts(ring(3, 4, 5, 5))).toEqual([
      'The outline at easting 3.00, northing 4.00 encloses no ground.',
    ])
  })

  test('a hole across the outline is wrong, one that touches it in a point is not', () => {
    expect(texts(box(0, 0, 10, 10), box(8, 2, 12, 4))[0]).toMatch(/^Two rings of one polygon cross at/)
    expect(texts(box(0, 0, 10, 10), ring(0, 5, 3, 4, 3, 6))).toEqual([])
  })

  test('two polygons may share an edge but not overlap', () => {
    const area = (...rings: Float64Array[]) => ({
      epsg: 27700,
      polygons: rings.map((each) => ({ rings: [each] })),
    })
    expect(validateArea(area(box(0, 0, 10, 10), box(10, 2, 20, 8)))).toEqual([])
    expect(validateArea(area(box(0, 0, 10, 10), box(9, 2, 20, 8)))[0]).toMatchObject({
      kind: 'parts-overlap',
      polygon: 0,
    })
  })

  test('a star of 20,000 corners is looked through', () => {
    const star = Float64Array.from({ length: 40_002 }, (_, i) => {
      const angle = ((i >> 1) * 2 * Math.PI) / 20_000
      const radius = (i >> 1) % 2 === 0 ? 500 : 480
      return i % 2 === 0 ? radius * Math.cos(angle) : radius * Math.sin(angle)
    })
    star.copyWithin(40_000, 0, 2)
    expect(texts(star)).toEqual([])
    star[20_000] = 600
    expect(texts(star).length).toBeGreaterThan(0)
  })
})
