import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { PlanarArea } from '#core/geometry'
import { normal, seededRandom, uniform } from '#core/random'
import { areaOf, box, faultOf } from '../../../test/cover/planar-shapes.ts'
import { anyArea, starRing } from '../../../test/lanes/drawn-areas.ts'
import {
  fewestTurns,
  handheldNames,
  type LaneWishes,
  lanePlan,
  lineBearing,
  ploughBearing,
  shareLanes,
  spiralPlan,
  usualPace,
  walkTime,
} from './index.ts'

const wishes: LaneWishes = { spacingM: 2, bearing: 0, edges: true, from: null }
const ringOf = (...xy: number[]): Float64Array => Float64Array.from([...xy, xy[0]!, xy[1]!])

describe('the walk', () => {
  test('every lane is walked once, and begins where the way from the one before ends', () => {
    fc.assert(
      fc.property(anyArea, fc.double({ min: 1.5, max: 12, noNaN: true }), (area, spacingM) => {
        const plan = lanePlan(area, { ...wishes, spacingM, bearing: null })
        const lanes = plan.laneM.length
        expect(plan.pieces.reduce((sum, piece) => sum + piece.lanes, 0)).toBe(lanes)
        const seen = new Set<string>()
        for (let i = 0; i < lanes; i++) {
          const pairs = [...plan.xy.subarray(2 * plan.start[i]!, 2 * plan.start[i + 1]!)]
          seen.add([pairs.slice(0, 2), pairs.slice(-2)].map(String).sort().join())
          expect(plan.laneM[i]).toBeGreaterThan(0)
        }
        expect(seen.size).toBe(lanes)
        expect(plan.lengthM).toBeCloseTo(
          plan.laneM.reduce((sum, m) => sum + m, 0),
          6,
        )
      }),
      { numRuns: 60 },
    )
  })

  test('the walk goes round a hole, and is as short as its shorter side', () => {
    // Lanes at bearing 0, walked from the east: the hole parts the lanes in its way into north and south.
    const plan = lanePlan(areaOf(box(0, 0, 60, 60), box(20, 20, 40, 40)), { ...wishes, from: [60, 0] })
    expect(plan.outsideM.every((m) => m === 0)).toBe(true)
    const between = plan.wayM.reduce((sum, m) => sum + m, 0)
    expect(plan.laneM.length).toBe(10 + 20 + 10)
    // Forty lanes two metres apart, and back along one side of the hole once.
    expect(between).toBeLessThan(38 * 2 + 60)
  })

  test('an L is cut where that saves turns', () => {
    const area = areaOf(ringOf(0, 0, 200, 0, 200, 20, 20, 20, 20, 200, 0, 200))
    const plan = lanePlan(area, { ...wishes, bearing: null })
    expect(plan.pieces.map(({ bearing }) => bearing).sort((a, b) => a - b)).toEqual([0, 90])
    expect(plan.laneM.length).toBe(20)
    expect(lanePlan(area, { ...wishes, bearing: 90 }).laneM.length).toBe(100)
  })

  test('lanes over holes are fewest along the side that crosses fewer of them', () => {
    const holes = [20, 50, 80].map((x) => box(x, 8, x + 4, 52))
    const { bearing, acrossM } = fewestTurns({ rings: [box(0, 0, 110, 60), ...holes] })
    expect(bearing).toBe(0)
    // 110 m of lanes side by side, and 4 m more for each hole that parts them in two.
    expect(acrossM).toBeCloseTo(110 + 3 * 4, 9)
  })

  test('parts that lie apart: the walk off the area is told', () => {
    const parts: PlanarArea = {
      epsg: 27_700,
      polygons: [{ rings: [box(0, 0, 20, 20)] }, { rings: [box(50, 0, 70, 20)] }],
    }
    const plan = lanePlan(parts, wishes)
    expect(plan.outsideM.reduce((sum, m) => sum + m, 0)).toBeCloseTo(30, 6)
  })

  test('the walk starts near where it is told to', () => {
    const plan = lanePlan(areaOf(box(0, 0, 40, 20)), { ...wishes, from: [0, 22] })
    expect([...plan.xy.subarray(0, 4)]).toEqual([1, 20, 1, 0])
  })
})

describe('odd areas', () => {
  test('an area narrower than the spacing gets one lane, and a note', () => {
    const plan = lanePlan(areaOf(box(0, 0, 1, 50)), { ...wishes, spacingM: 3 })
    expect(plan.laneM).toEqual(Float64Array.of(50))
    expect(plan.notes).toEqual(['The area is no wider across the lanes than their spacing of 3 m: one lane.'])
    expect(lanePlan(areaOf(box(0, 0, 0.01, 0.01)), wishes).laneM.length).toBe(1)
  })

  test('a sliver a micrometre wide still gets its lane', () => {
    const plan = lanePlan(areaOf(ringOf(0, 0, 100, 0, 100, 1e-6, 0, 1e-6)), { ...wishes, bearing: null })
    expect(plan.laneM.length).toBe(1)
    expect(plan.lengthM).toBeCloseTo(100, 3)
  })

  test('a figure of eight is decided by the even-odd rule, and says so', () => {
    const plan = lanePlan(areaOf(ringOf(0, 0, 20, 20, 20, 0, 0, 20)), { ...wishes, bearing: 90 })
    expect(plan.notes.join()).toContain(
      'crosses itself at easting 10.00, northing 10.00. What lies inside was decided by the even-odd rule',
    )
    // Two triangles of 100 m2 each: at 2 m apart about 100 m of lanes, and what is walked along its edges.
    expect(plan.lengthM).toBeGreaterThan(100)
    expect(plan.lengthM).toBeLessThan(190)
  })

  test('a part that encloses nothing gets no lane, and says so', () => {
    const parts: PlanarArea = {
      epsg: 27_700,
      polygons: [{ rings: [ringOf(0, 0, 5, 5, 9, 9)] }, { rings: [box(50, 0, 70, 20)] }],
    }
    const plan = lanePlan(parts, wishes)
    expect(plan.laneM.length).toBe(10)
    expect(plan.notes).toEqual([
      'The outline at easting 0.00, northing 0.00 encloses no ground. It gets no lane.',
    ])
  })

  test('parts that overlap are told of', () => {
    const parts: PlanarArea = {
      epsg: 27_700,
      polygons: [{ rings: [box(0, 0, 20, 20)] }, { rings: [box(10, 10, 30, 30)] }],
    }
    expect(lanePlan(parts, wishes).notes.join()).toMatch(/overlap at .* gets the lanes of both/)
  })

  test('rings that are not closed are closed', () => {
    const open = box(0, 0, 40, 20).slice(0, 8)
    expect(lanePlan(areaOf(open), wishes).lengthM).toBe(lanePlan(areaOf(box(0, 0, 40, 20)), wishes).lengthM)
  })

  test('an outline of 100,000 corners is walked like the circle that it is', () => {
    const ring = starRing(558_000, 347_000, new Array(100_000).fill(500))
    const plan = lanePlan(areaOf(ring), { ...wishes, bearing: 30, spacingM: 5 })
    expect(plan.laneM.length).toBe(200)
    expect(Math.abs(plan.lengthM * 5 - Math.PI * 500 * 500)).toBeLessThan(0.01 * Math.PI * 500 * 500)
  })
})

describe('sharing', () => {
  test('shares follow on one another and none is longer than an equal one by more than a lane', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.5, max: 300, noNaN: true }), { minLength: 1, maxLength: 60 }),
        fc.integer({ min: 1, max: 8 }),
        (lengths, walkers) => {
          const laneM = Float64Array.from(lengths)
          const wayM = laneM.map((_, i) => (i + 1 < laneM.length ? 2 : 0))
          const shares = shareLanes({ laneM, wayM, outsideM: new Float64Array(laneM.length) }, walkers)
          const longest = Math.max(...lengths)
          const equal = lengths.reduce((sum, m) => sum + m, 0) / walkers
          expect(shares.length).toBe(walkers)
          let from = 0
          for (const share of shares) {
            expect(share.from).toBe(from)
            from = share.to
            expect(Math.abs(share.lengthM - equal)).toBeLessThanOrEqual(longest + 1e-9)
            expect(share.wayM).toBe(2 * share.turns)
          }
          expect(from).toBe(laneM.length)
        },
      ),
    )
  })

  test('time: sweeping, walking, turning, and a rest after each stretch but the last', () => {
    const pace = { sweepMs: 0.5, walkMs: 1, turnS: 10, workMin: 50, restMin: 10 }
    expect(walkTime({ lengthM: 1400, wayM: 100, turns: 10 }, pace)).toEqual({
      sweepS: 2800,
      betweenS: 200,
      restS: 0,
      totalS: 3000,
    })
    expect(walkTime({ lengthM: 1400, wayM: 101, turns: 10 }, pace).restS).toBe(600)
    expect(walkTime({ lengthM: 0, wayM: 0, turns: 0 }, usualPace).totalS).toBe(0)
    expect(faultOf(() => walkTime({ lengthM: 1, wayM: 0, turns: 0 }, { ...pace, sweepMs: 0 }))).toContain(
      'setting-out-of-range: The speed along lanes must be above 0',
    )
    expect(faultOf(() => walkTime({ lengthM: 1, wayM: 0, turns: 0 }, { ...pace, restMin: -1 }))).toContain(
      'The time for a rest must not be below 0',
    )
  })

  test('wrong calls are refused', () => {
    const plan = { laneM: new Float64Array(1), wayM: new Float64Array(1), outsideM: new Float64Array(1) }
    expect(() => shareLanes(plan, 0)).toThrow(RangeError)
    expect(() => shareLanes(plan, 1.5)).toThrow(RangeError)
  })
})

describe('spirals', () => {
  const area = areaOf(box(0, 0, 80, 60))
  test('turns lie a spacing apart', () => {
    const { xy } = spiralPlan(area, { spacingM: 3, centre: [40, 30], radiusM: 25 })
    for (let i = 0; i < xy.length; i += 2) {
      const r = Math.hypot(xy[i]! - 40, xy[i + 1]! - 30)
      const turn = (Math.atan2(xy[i]! - 40, xy[i + 1]! - 30) / (2 * Math.PI) + 1) % 1
      const off = r / 3 - turn
      expect(Math.abs(off - Math.round(off))).toBeLessThan(1e-6)
    }
  })

  test('what cannot be is told in a sentence', () => {
    const fault = (more: object): string =>
      faultOf(() => spiralPlan(area, { spacingM: 2, centre: [40, 30], radiusM: null, ...more }))
    expect(fault({ radiusM: 0 })).toContain('must reach farther than 0 m')
    expect(fault({ centre: [-500, 0], radiusM: 9 })).toContain('does not meet the search area')
    expect(fault({ spacingM: 1e-6 })).toContain('too long to be planned')
  })
})

describe('bearings', () => {
  test('of a drawn line, whichever way it was drawn', () => {
    expect(lineBearing([0, 0, 10, 10])).toBeCloseTo(45, 9)
    expect(lineBearing([10, 10, 0, 0])).toBeCloseTo(45, 9)
    expect(lineBearing([0, 0, 0, 9])).toBeCloseTo(0, 9)
    expect(lineBearing([0, 0, 100, -1, 200, 0])).toBeCloseTo(90, 9)
    expect(lineBearing([0, 0])).toBeNaN()
    expect(lineBearing([0, 0, 10, 0, 10, 10, 0, 10, 0, 0])).toBeNaN()
  })

  /** Stripes along a bearing, so wide, under noise of some standard deviation. */
  function stripes(bearing: number, wide: number, noise: number, seed: number): Float32Array {
    const random = seededRandom(seed)
    const [sine, cosine] = [Math.sin((bearing * Math.PI) / 180), Math.cos((bearing * Math.PI) / 180)]
    return Float32Array.from({ length: 128 * 128 }, (_, i) => {
      const [east, north] = [i % 128, -Math.floor(i / 128)]
      return Math.sin((2 * Math.PI * (east * cosine - north * sine)) / wide) + noise * normal(random)
    })
  }
  const chip = (cells: Float32Array) => ploughBearing({ columns: 128, rows: 128, cells })
  const apart = (a: number, b: number): number => Math.abs(((a - b + 270) % 180) - 90)

  test('of plough lines, within a degree without noise and within three with as much noise as lines', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 180, noNaN: true }),
        fc.double({ min: 5, max: 20, noNaN: true }),
        fc.nat(),
        (bearing, wide, seed) => {
          const clear = chip(stripes(bearing, wide, 0, seed))
          expect(apart(clear.bearing, bearing)).toBeLessThan(1)
          expect(clear.explained).toBeGreaterThan(0.9)
          const noisy = chip(stripes(bearing, Math.min(wide, 8), 0.7, seed))
          expect(apart(noisy.bearing, bearing)).toBeLessThan(3)
          expect(noisy.confidence).toBeGreaterThan(0.99)
        },
      ),
      { numRuns: 12 },
    )
  })

  test('noise alone: chance is seldom taken for a direction', () => {
    const random = seededRandom(3)
    const found = Array.from({ length: 60 }, () =>
      chip(Float32Array.from({ length: 128 * 128 }, () => normal(random))),
    )
    // One in a hundred would be 0.6 of 60; four or more of 60 happen to it once in 300 times.
    expect(found.filter(({ confidence }) => confidence >= 0.99).length).toBeLessThan(4)
    expect(Math.max(...found.map(({ explained }) => explained))).toBeLessThan(0.1)
  })

  test('a bearing is told by the parts that show it, whatever a quarter of the image holds', () => {
    const random = seededRandom(6)
    // Tramlines along 30 degrees; in the south-eastern quarter another crop, sown along 120 and as strong.
    const [own, other] = [stripes(30, 12, 1, 6), stripes(120, 12, 1, 7)]
    const cells = own.map((value, i) => (i % 128 >= 64 && i >= 64 * 128 ? other[i]! : value) + normal(random))
    const { bearing, confidence, parts, agreeing } = chip(cells)
    expect(apart(bearing, 30)).toBeLessThan(2)
    expect(confidence).toBeGreaterThan(0.99)
    expect([parts, agreeing]).toEqual([16, 12])
  })

  test('cells without a value are passed over, and an even image has no bearing', () => {
    const random = seededRandom(4)
    const cells = stripes(70, 9, 0.2, 1).map((value) => (uniform(random, 0, 1) < 0.1 ? Number.NaN : value))
    expect(apart(chip(Float32Array.from(cells)).bearing, 70)).toBeLessThan(2)
    expect(chip(new Float32Array(128 * 128).fill(4))).toEqual({
      bearing: Number.NaN,
      explained: 0,
      parts: 0,
      agreeing: 0,
      spread: Number.NaN,
      confidence: 0,
    })
    expect(() => ploughBearing({ columns: 8, rows: 8, cells: new Float32Array(64) })).toThrow(RangeError)
    expect(() => ploughBearing({ columns: 20, rows: 20, cells: new Float32Array(64) })).toThrow(RangeError)
  })
})

describe('names for handhelds', () => {
  test('are cut, plain, and each different', () => {
    fc.assert(
      fc.property(
        fc.array(fc.string({ unit: 'grapheme', maxLength: 12 }), { maxLength: 30 }),
        fc.integer({ min: 3, max: 12 }),
        fc.boolean(),
        (names, length, ascii) => {
          const made = handheldNames(names, { length, ascii })
          expect(made).toHaveLength(names.length)
          expect(new Set(made).size).toBe(names.length)
          for (const name of made) {
            expect([...name].length).toBeGreaterThan(0)
            expect([...name].length).toBeLessThanOrEqual(length)
            if (ascii) expect(name).toMatch(/^[ -~]+$/)
          }
        },
      ),
    )
  })

  test('by hand', () => {
    expect(handheldNames(['Überlänge 12', 'Überlänge 13'], { length: 6, ascii: true })).toEqual([
      'Uberla',
      'Uberl2',
    ])
    expect(handheldNames(['Lane 1', 'Lane 2'], { length: 10, ascii: false })).toEqual(['Lane 1', 'Lane 2'])
    expect(handheldNames(['', 'Straße – Öl', '井'], { length: 8, ascii: true })).toEqual([
      '1',
      'Strasse',
      '?',
    ])
    expect(() => handheldNames(new Array(11).fill('a'), { length: 1, ascii: true })).toThrow(RangeError)
    expect(() => handheldNames([], { length: 0, ascii: true })).toThrow(RangeError)
  })
})
