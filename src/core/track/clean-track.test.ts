import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { seededRandom, uniform } from '#core/random'
import { recordedWalk, withFixes } from '../../../test/track/recorded-walk.ts'
import {
  type CleanedTrack,
  cleanTrack,
  cutParts,
  defaultCleanSettings,
  driven,
  type PlanarTrack,
  questionTrack,
  rejections,
  standing,
} from './index.ts'

const settings = defaultCleanSettings
const clean = (track: PlanarTrack): CleanedTrack => cleanTrack(track, settings)
const reasonAt = (cleaned: CleanedTrack, i: number): string =>
  cleaned.rejectedAs[i] === 0 ? 'kept' : rejections[cleaned.rejectedAs[i]! - 1]!

describe('fixes left out', () => {
  const walk = recordedWalk({ seconds: 300 })

  test('a plain walk keeps every fix, its length and its time', () => {
    const cleaned = clean(walk)
    expect(cleaned.fix).toHaveLength(301)
    expect(cleaned.breaks).toEqual([])
    expect(cleaned.walkingS).toBe(300)
    expect(Math.abs(cleaned.distanceM / 150 - 1)).toBeLessThan(0.06)
    // Recorded step by step, noise of 0.3 m makes the walk some 40 % too long.
    const raw = clean({ ...walk, time: null }).distanceM
    expect(raw / 150).toBeGreaterThan(1.25)
  })

  test('single and short spikes go, with their reason; what was recorded stays as it was', () => {
    const spiked = withFixes(walk, ({ x, y }, i) =>
      i === 50 || (i >= 120 && i < 125) ? { x: x + 80, y: y - 30 } : {},
    )
    const before = spiked.xy.slice()
    const cleaned = clean(spiked)
    expect(cleaned.rejected).toEqual({
      'no-place': 0,
      'no-time': 0,
      'same-time': 0,
      'clock-back': 0,
      spike: 6,
    })
    expect(reasonAt(cleaned, 50)).toBe('spike')
    expect(cleaned.breaks).toEqual([])
    expect(spiked.xy).toEqual(before)
    expect(cleaned.notes.join()).toContain('6 fixes lie farther off than a walker can get and were left out')
  })

  test('a receiver that comes back elsewhere jumps: nothing goes, the track breaks', () => {
    const jumped = withFixes(walk, ({ x }, i) => (i >= 150 ? { x: x + 200 } : {}))
    const cleaned = clean(jumped)
    expect(cleaned.fix).toHaveLength(301)
    expect(cleaned.breaks).toHaveLength(1)
    expect(cleaned.breaks[0]).toMatchObject({ at: 150, cause: 'jump', seconds: 1 })
    expect(cleaned.distanceM).toBeLessThan(170)
    expect(cleaned.notes.join()).toMatch(/jumps once, by (19|20)\d m at most/)
  })

  test('the first fixes of a receiver that has not found its place yet are spikes', () => {
    const cold = withFixes(walk, ({ x }, i) => (i < 2 ? { x: x + 500 } : {}))
    expect(clean(cold).rejected.spike).toBe(2)
    expect(clean(cold).breaks).toEqual([])
  })

  test('times that repeat, slip back and run ahead for one fix', () => {
    const odd = withFixes(walk, ({ t }, i) =>
      i === 20 ? { t: t - 1 } : i === 40 ? { t: t - 7 } : i === 60 ? { t: t + 500 } : {},
    )
    const cleaned = clean(odd)
    expect([reasonAt(cleaned, 20), reasonAt(cleaned, 40), reasonAt(cleaned, 60)]).toEqual([
      'same-time',
      'clock-back',
      'clock-back',
    ])
    expect(cleaned.fix).toHaveLength(298)
  })

  test('a clock set back for good breaks the track, and loses no fix', () => {
    const cleaned = clean(withFixes(walk, ({ t }, i) => (i >= 100 ? { t: t - 3600 } : {})))
    expect(cleaned.fix).toHaveLength(301)
    expect(cleaned.breaks).toMatchObject([{ at: 100, cause: 'clock-back', seconds: -3599 }])
    expect(cleaned.walkingS).toBe(299)
  })

  test('a gap in time stays a gap, and a segment a break', () => {
    const paused = withFixes(walk, ({ t }, i) => (i >= 200 ? { t: t + 600 } : {}))
    const cleaned = clean({ ...paused, segmentStart: Uint32Array.of(0, 50) })
    expect(cleaned.breaks.map(({ cause, at }) => [cause, at])).toEqual([
      ['segment', 50],
      ['gap', 200],
    ])
    expect([...cleaned.segmentStart]).toEqual([0, 50, 200])
    expect(cleaned.walkingS).toBe(298)
    expect(cleaned.notes.join()).toContain('Nothing was recorded once for more than 60 s (10 min together)')
  })

  test('fixes without a place or without a time', () => {
    const holes = withFixes(walk, (_, i) => (i === 3 ? { x: Number.NaN } : i === 4 ? { t: Number.NaN } : {}))
    expect(clean(holes).rejected).toMatchObject({ 'no-place': 1, 'no-time': 1 })
  })

  test('no times at all: the fixes are kept unsmoothed, and what that means is told', () => {
    const cleaned = clean({ ...walk, time: null })
    expect(cleaned.xy).toEqual(walk.xy)
    expect(cleaned).toMatchObject({
      speedMS: null,
      headingRad: null,
      walkingS: null,
      stoppedS: null,
      stops: [],
    })
    expect(cleaned.notes.join()).toContain('carry no times: they were not smoothed')
    expect([...cleaned.errorM.slice(0, 2)]).toEqual([2, 2])
  })

  test('no fix, one fix, and nothing but fixes that cannot belong together', () => {
    const some = (n: number): PlanarTrack => ({
      ...walk,
      xy: Float64Array.from({ length: 2 * n }, (_, k) => 1e5 * k),
      time: Float64Array.from({ length: n }, (_, k) => k),
    })
    expect(clean(some(0)).fix).toHaveLength(0)
    expect(clean(some(1)).fix).toHaveLength(1)
    expect(clean(some(2)).fix).toHaveLength(2)
    expect(clean({ ...some(0), segmentStart: new Uint32Array(0) }).notes).toEqual([])
  })
})

describe('what the walker did', () => {
  test('stops are found with their time and place', () => {
    const cleaned = clean(
      recordedWalk({
        seconds: 900,
        stops: [
          [100, 220],
          [600, 640],
        ],
        seed: 4,
      }),
    )
    expect(cleaned.stops).toHaveLength(2)
    const [dig, talk] = cleaned.stops
    expect(Math.abs(dig!.end - dig!.start - 120)).toBeLessThan(12)
    expect(Math.abs(talk!.end - talk!.start - 40)).toBeLessThan(12)
    expect(Math.hypot(dig!.x - 561_000, dig!.y - 342_050)).toBeLessThan(0.6)
    expect(cleaned.stoppedS! + cleaned.walkingS!).toBe(900)
    expect(cleaned.state.filter((state) => state === standing).length).toBeGreaterThan(140)
  })

  test('a drive home is found and can be cut; two fixes far apart are none', () => {
    const walk = recordedWalk({ seconds: 600 })
    const home = withFixes(walk, ({ x, y }, i) =>
      i > 400 ? { x: x + 12 * (i - 400), y: y + 3 * (i - 400) } : {},
    )
    const cleaned = clean(home)
    expect(cleaned.drives).toHaveLength(1)
    const [drive] = cleaned.drives
    expect(Math.abs(drive!.fromFix - 400)).toBeLessThan(12)
    expect(drive!.toFix).toBe(600)
    expect(cleaned.rejected.spike).toBe(0)
    expect(cleaned.state.at(-1)).toBe(driven)
    expect(cleaned.distanceM).toBeLessThan(210)
    const cut = cutParts(home, cleaned.drives)
    expect(cut.xy).toHaveLength(2 * drive!.fromFix)
    expect(clean(cut).drives).toEqual([])
    const jumped = withFixes(walk, ({ x }, i) => (i >= 150 ? { x: x + 400 } : {}))
    expect(clean(jumped).drives).toEqual([])
  })

  test('speed and heading are those walked', () => {
    const { speedMS, headingRad } = clean(recordedWalk({ seconds: 100, speedMS: 0.6 }))
    expect(Math.abs(speedMS![50]! - 0.6)).toBeLessThan(0.15)
    expect(Math.abs(Math.sin(headingRad![50]!))).toBeLessThan(0.3)
    expect(Math.cos(headingRad![50]!)).toBeGreaterThan(0.9)
  })

  test('ten fixes a second are no more sure than one a second', () => {
    const middle = ({ errorM }: CleanedTrack): number => errorM[errorM.length >> 1]!
    const often = clean(recordedWalk({ seconds: 300, everyS: 0.1 }))
    const plain = clean(recordedWalk({ seconds: 300 }))
    expect(Math.abs(middle(often) / middle(plain) - 1)).toBeLessThan(0.02)
    expect(Math.abs(often.distanceM / 150 - 1)).toBeLessThan(0.1)
    expect(middle(plain)).toBeGreaterThan(2 * Math.sqrt(0.9))
  })

  test('accuracy and hdop go before the setting of the visit', () => {
    const walk = recordedWalk({ seconds: 60 })
    const accuracyM = new Float64Array(61).fill(Number.NaN)
    const hdop = new Float64Array(61).fill(Number.NaN)
    accuracyM.fill(9, 0, 20)
    hdop.fill(0.5, 10, 40)
    const { errorM } = cleanTrack({ ...walk, accuracyM, hdop }, settings)
    // A radius with 68.27 % is 1.515 errors of one axis (Rayleigh distribution).
    expect(errorM[5]!).toBeGreaterThan(0.94 * (9 / 1.515))
    expect(errorM[5]!).toBeLessThan(9 / 1.515)
    expect(errorM[30]).toBeLessThan(1)
    expect(errorM[50]).toBeGreaterThan(1.85)
  })
})

test('later, elsewhere or turned, a track is cleaned in the same way', () => {
  const random = seededRandom(5)
  const walk = withFixes(recordedWalk({ seconds: 400, stops: [[90, 130]] }), ({ x }, i) =>
    i % 97 === 50 ? { x: x + uniform(random, 40, 90) } : {},
  )
  const plain = clean(walk)
  fc.assert(
    fc.property(
      fc.integer({ min: -100_000, max: 100_000 }),
      fc.double({ min: 0, max: 6.28, noNaN: true }),
      (by, turn) => {
        const [c, s] = [Math.cos(turn), Math.sin(turn)]
        const moved = withFixes(walk, ({ x, y, t }) => ({
          x: c * (x - 561_000) - s * (y - 342_000) + by,
          y: s * (x - 561_000) + c * (y - 342_000) + 2 * by,
          t: t + by,
        }))
        const found = clean(moved)
        expect(found.rejected).toEqual(plain.rejected)
        expect(found.stops.map(({ from, to }) => [from, to])).toEqual(
          plain.stops.map(({ from, to }) => [from, to]),
        )
        expect(Math.abs(found.distanceM - plain.distanceM)).toBeLessThan(1e-4)
        for (let k = 0; k < plain.speedMS!.length; k++)
          expect(Math.abs(found.speedMS![k]! - plain.speedMS![k]!)).toBeLessThan(1e-5)
      },
    ),
    { numRuns: 30 },
  )
})

test('any fixes in any order: nothing is lost uncounted, times ascend in each piece', () => {
  const anyFix = fc.tuple(
    fc.integer({ min: -400, max: 400 }),
    fc.integer({ min: -5, max: 90 }),
    fc.constantFrom(0, 0, 0, Number.NaN),
  )
  fc.assert(
    fc.property(fc.array(anyFix, { maxLength: 60 }), fc.nat(59), (fixes, cut) => {
      let t = 0
      const track: PlanarTrack = {
        epsg: 27700,
        xy: Float64Array.from(fixes.flatMap(([x, , hole]) => [x / 4 + hole, x / 7])),
        time: Float64Array.from(fixes, ([, after]) => {
          t += after
          return t
        }),
        segmentStart:
          cut > 0 && cut < fixes.length
            ? Uint32Array.of(0, cut)
            : Uint32Array.from(fixes.length > 0 ? [0] : []),
      }
      const { fix, rejected, segmentStart, time, xy, breaks } = clean(track)
      const left = Object.values(rejected).reduce((sum, n) => sum + n, 0)
      expect(fix.length + left).toBe(fixes.length)
      expect(breaks).toHaveLength(Math.max(0, segmentStart.length - 1))
      expect(xy.every(Number.isFinite)).toBe(true)
      for (let k = 1; k < fix.length; k++) {
        expect(fix[k]!).toBeGreaterThan(fix[k - 1]!)
        if (!segmentStart.includes(k)) expect(time![k]!).toBeGreaterThan(time![k - 1]!)
      }
    }),
  )
})

test('settings out of range are refused in words', () => {
  const walk = recordedWalk({ seconds: 10 })
  expect(() => cleanTrack(walk, { ...settings, errorM: -1 })).toThrow('0 m or more, not -1')
  expect(() => cleanTrack(walk, { ...settings, quickShare: 2 })).toThrow('from 0 to 1')
  expect(() => cleanTrack(walk, { ...settings, stopS: 0 })).toThrow('shortest stop must be above 0')
})

test('a track on another continent, or beside the ground, is questioned', () => {
  const walk = recordedWalk({ seconds: 100 })
  const ground = { minX: 560_990, minY: 341_990, maxX: 561_100, maxY: 342_100 }
  expect(questionTrack(walk, ground)).toBeNull()
  const far = withFixes(walk, ({ x }) => ({ x: x + 6_000_000 }))
  expect(questionTrack(far, ground)).toMatchObject({
    code: 'far-away',
    text: expect.stringContaining('6000 km'),
  })
  const beside = withFixes(walk, ({ x }) => ({ x: x + 500 }))
  expect(questionTrack(beside, ground)?.code).toBe('beside')
  expect(questionTrack({ ...walk, xy: new Float64Array(0) }, ground)?.code).toBe('no-fix')
})
