import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { seededRandom, uniform } from '#core/random'
import { type PlanarTrack, sweptLegs } from '#core/track'
import { areaOf, box, faultOf, track } from '../../../test/cover/planar-shapes.ts'
import {
  type ChanceOptions,
  type CoverChance,
  chanceAt,
  coverChance,
  coverGrid,
  meanZigzagShare,
  zigzagShare,
} from './index.ts'
import { centreEast, centreNorth } from './lattice.ts'
import { normalDensity, normalShare } from './normal-distribution.ts'

const limits = { maxJumpM: 1000, maxJumpS: 60 }
const options = (widthM: number, errorM: number, more: Partial<ChanceOptions> = {}): ChanceOptions => ({
  ...limits,
  widthM,
  cellM: 0.1,
  errorM,
  exact: true,
  ...more,
})
const timed = (each: PlanarTrack, every: number): PlanarTrack => ({
  ...each,
  time: Float64Array.from({ length: each.xy.length / 2 }, (_, i) => i * every),
})

test('the normal distribution is that of Python 3.11.2, math.erfc', () => {
  const expected: [number, number][] = [
    [-6, 9.865876450377012e-10],
    [-3, 0.0013498980316300957],
    [-1.96, 0.024997895148220435],
    [-0.5, 0.3085375387259869],
    [0, 0.5],
    [0.1, 0.539827837277029],
    [1, 0.8413447460685429],
    [4.5, 0.9999966023268753],
  ]
  for (const [z, share] of expected) expect(Math.abs(normalShare(z) - share)).toBeLessThan(2e-16 * 8)
  expect(normalShare(Number.NaN)).toBeNaN()
  expect([normalShare(-40), normalShare(40)]).toEqual([0, 1])
})

describe('the zigzag', () => {
  test.each([
    [0.25, 0.5, 0, 0.5],
    [0.25, 0.25, 0, 1],
    [0.25, 0.125, 1, 1],
  ])('worked by hand: D %s m, one sweep a second, %s m/s, at u = %s senses %s', (coil, speed, u, share) => {
    expect(zigzagShare(u, coil / speed)).toBe(share)
  })

  test('as much as a coil moved along the zigzag, tried at many places', () => {
    const random = seededRandom(7)
    const tries = 20_000
    for (const ratio of [0.3, 0.8, 1, 1.4, 1.9, 2.5]) {
      for (const u of [-1, -0.7, -0.2, 0, 0.5, 0.95]) {
        let sensed = 0
        for (let n = 0; n < tries; n++) if (isSensed(u, uniform(random, 100, 200), ratio)) sensed++
        const share = zigzagShare(u, ratio)
        const spread = Math.sqrt((share * (1 - share)) / tries)
        expect(Math.abs(sensed / tries - share)).toBeLessThan(4 * spread + 1e-9)
      }
    }
  })

  /** A coil `ratio` long moves from side to side while it is carried on by 1 a sweep: does it pass over the place? */
  function isSensed(u: number, along: number, ratio: number): boolean {
    const firstSweep = Math.max(0, Math.floor(along - ratio) - 2)
    for (let sweep = firstSweep; sweep < along + ratio + 2; sweep++) {
      const part = sweep % 2 === 0 ? (u + 1) / 2 : (1 - u) / 2
      if (Math.abs(along - (sweep + part)) < ratio / 2) return true
    }
    return false
  }

  test('its mean over the arc is r - r^2 / 4', () => {
    for (const ratio of [0.1, 0.5, 1, 1.7, 2, 3]) {
      let sum = 0
      for (let k = 0; k < 10_000; k++) sum += zigzagShare((k + 0.5) / 5000 - 1, ratio)
      expect(meanZigzagShare(ratio)).toBeCloseTo(sum / 10_000, 6)
    }
  })
})

describe('the chance at a distance', () => {
  test('is the closed form for a full arc', () => {
    for (const x of [0, 0.4, 1, 2.5, 7]) {
      const closed = normalShare((0.75 - x) / 2) - normalShare((-0.75 - x) / 2)
      expect(chanceAt(x, 0.75, 2, 2)).toBeCloseTo(closed, 14)
    }
  })

  test('is the integral over true places of what the zigzag senses there', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -4, max: 4, noNaN: true }),
        fc.double({ min: 0.05, max: 3, noNaN: true }),
        fc.double({ min: 0, max: 2.5, noNaN: true }),
        (x, error, ratio) => {
          const steps = 20_000
          let sum = 0
          for (let k = 0; k < steps; k++) {
            const u = (2 * (k + 0.5)) / steps - 1
            sum += (zigzagShare(u, ratio) * normalDensity((u - x) / error)) / error
          }
          expect(Math.abs(chanceAt(x, 1, error, ratio) - (2 * sum) / steps)).toBeLessThan(1e-6)
        },
      ),
      { numRuns: 60 },
    )
  })
})

describe('one straight lane', () => {
  /** Integral of Phi((edge - x) / s) over x from a to b. */
  const under = (edge: number, s: number, a: number, b: number): number => {
    const primitive = (z: number): number => z * normalShare(z) + normalDensity(z)
    return s * (primitive((edge - a) / s) - primitive((edge - b) / s))
  }
  const lane = timed(track(Array.from({ length: 500 }, (_, i) => [20, i - 100]).flat()), 2)

  test.each([
    [1.5, 2],
    [1.5, 0.5],
    [1.2, 5],
    [3, 0.2],
    [2, 0.05],
  ])('W = %s m, error %s m: expected share within half a percent of the closed form', (widthM, errorM) => {
    const field = areaOf(box(0, 0, 40, 60))
    const closed = (under(widthM / 2, errorM, -20, 20) - under(-widthM / 2, errorM, -20, 20)) / 40
    for (const exact of [true, false]) {
      const { expectedShare } = coverChance([lane], field, options(widthM, errorM, { exact }))
      expect(Math.abs(expectedShare / closed - 1)).toBeLessThan(0.005)
    }
  })

  test('with a coil and a rate, the zigzag besides', () => {
    // 1 m in 2 s at one sweep a second: a = 0.5 m, and a coil of 0.3 m gives D / a = 0.6.
    const field = areaOf(box(0, 0, 40, 60))
    for (const exact of [true, false]) {
      const wanted = options(1.5, 1, { coilM: 0.3, rateHz: 1, exact })
      const { expectedShare, notes } = coverChance([lane], field, wanted)
      expect(Math.abs(expectedShare / ((1.5 * meanZigzagShare(0.6)) / 40) - 1)).toBeLessThan(0.005)
      expect(notes.join()).toContain('senses 51 % of the ground within its arc')
    }
  })

  test('without times the zigzag is not counted, and that is said', () => {
    const field = areaOf(box(0, 0, 40, 60))
    const still: PlanarTrack = { ...lane, time: null }
    const plain = coverChance([still], field, options(1.5, 1))
    const asked = coverChance([still], field, options(1.5, 1, { coilM: 0.3, rateHz: 1 }))
    expect(asked.expectedShare).toBe(plain.expectedShare)
    expect(asked.notes.join()).toContain('no times, so the zigzag of the coil was not counted')
  })
})

/** The chance of the cell over a place. */
function chanceOver(found: CoverChance, x: number, y: number): number {
  const column = Math.floor((x - found.west) / found.cellM)
  const row = Math.floor((found.north - y) / found.cellM)
  return found.chance[row * found.columns + column]!
}

describe('passes', () => {
  const field = areaOf(box(0, 0, 60, 60))

  test('out and back beside each other are two passes, standing about is one', () => {
    const wanted = options(1.5, 1, { cellM: 0.25 })
    const p = (distance: number): number => chanceAt(distance, 0.75, 1, 2)
    const both = coverChance([track([30, -50, 30, 110, 31.5, 110, 31.5, -50])], field, wanted)
    const [x, y] = [30.25, 30.25]
    expect(both.cellM).toBe(0.25)
    const at = 0.25 * Math.floor(x / 0.25) + 0.125
    expect(chanceOver(both, x, y)).toBeCloseTo(1 - (1 - p(at - 30)) * (1 - p(31.5 - at)), 3)
    const random = seededRandom(3)
    const idle = track([
      30,
      -50,
      ...Array.from({ length: 400 }, () => 30 + uniform(random, -0.5, 0.5)),
      30,
      110,
    ])
    expect(chanceOver(coverChance([idle], field, wanted), 30.1, 30.1)).toBeLessThanOrEqual(p(0) + 1e-4)
  })

  test('more fixes on the same lines change nothing', () => {
    const corners = [30, -50, 30, 34, 31, 35, 32, 34, 32, -50, 40, -50, 40, 30, 41, 30, 41, 90]
    const more = corners.flatMap((value, i) => {
      if (i % 2 === 1) return []
      const [x1, y1] = [corners[i + 2] ?? value, corners[i + 3] ?? corners[i + 1]!]
      const part = (k: number): number[] => [
        value + (k / 8) * (x1 - value),
        corners[i + 1]! + (k / 8) * (y1 - corners[i + 1]!),
      ]
      return [0, 1, 2, 3, 4, 5, 6, 7].flatMap(part)
    })
    const few = coverChance([track(corners)], field, options(1.5, 1))
    const many = coverChance([track(more)], field, options(1.5, 1))
    for (let p = 0; p < few.chance.length; p++)
      expect(Math.abs(few.chance[p]! - many.chance[p]!)).toBeLessThan(1e-6)
  })

  test('any walk: as worked out cell by cell', () => {
    const small = areaOf(box(0, 0, 12, 10), box(4, 4, 6, 6))
    // Whole millimetres: the sum by hand divides by the square of a step, which must not vanish.
    const place = fc.integer({ min: -4000, max: 16_000 }).map((millimetres) => millimetres / 1000)
    const anyWalk = fc.array(place, { minLength: 2, maxLength: 40 })
    fc.assert(
      fc.property(
        anyWalk,
        fc.nat(10),
        fc.constantFrom(0.3, 1, 2),
        fc.constantFrom(null, 0.2, 0.6),
        (xy, cut, errorM, coilM) => {
          const walk = timed(
            track(xy.slice(0, xy.length & ~1), cut > 0 && cut < xy.length >> 1 ? [0, cut] : [0]),
            3,
          )
          const wanted = options(1.5, errorM, { cellM: 0.5, coilM, rateHz: coilM && 1 })
          const found = coverChance([walk, walk], small, wanted)
          for (let cell = 0; cell < found.chance.length; cell++) {
            const [row, column] = [Math.floor(cell / found.columns), cell % found.columns]
            const x = (column + centreEast) * found.cellM
            const y = (found.rows - 1 - row + centreNorth) * found.cellM
            const inside = x < 12 && y < 10 && !(x > 4 && x < 6 && y > 4 && y < 6)
            if (!inside) expect(found.chance[cell]).toBeNaN()
            else {
              const once = chanceByHand(walk, x, y, wanted)
              expect(Math.abs(found.chance[cell]! - (1 - (1 - once) ** 2))).toBeLessThan(1e-3)
            }
          }
        },
      ),
      { numRuns: 60 },
    )
  })

  function chanceByHand(
    { xy, segmentStart, time }: PlanarTrack,
    x: number,
    y: number,
    wanted: ChanceOptions,
  ): number {
    const { kind } = sweptLegs({ epsg: 27700, xy, segmentStart, time }, wanted)
    const reach = wanted.widthM / 2 + 4 * wanted.errorM
    let missed = 1
    let pass = { best: 0, near: Infinity, far: Infinity }
    let broken = true
    for (let i = 0; i < kind.length; i++) {
      if (kind[i] === 0) {
        broken = true
        continue
      }
      const last = kind[i] === 1 ? i + 1 : i
      const [ax, ay] = [xy[2 * i]!, xy[2 * i + 1]!]
      const [dx, dy] = [xy[2 * last]! - ax, xy[2 * last + 1]! - ay]
      const length = Math.hypot(dx, dy)
      const t = length > 0 ? ((x - ax) * dx + (y - ay) * dy) / length ** 2 : 0
      const along = Math.max(0, Math.min(1, t))
      const distance = Math.hypot(x - ax - along * dx, y - ay - along * dy)
      const { coilM, rateHz } = wanted
      const ratio = coilM && rateHz && length > 0 ? Math.min(2, (coilM * rateHz * 3) / length) : 2
      if (distance < reach) {
        const p = chanceAt(distance, wanted.widthM / 2, wanted.errorM, ratio)
        const back = pass.far - pass.near > wanted.widthM && distance < pass.far - wanted.widthM
        if (broken || back) {
          missed *= 1 - pass.best
          pass = { best: p, near: distance, far: distance }
          broken = false
        } else pass.best = Math.max(pass.best, p)
        if (distance < pass.near) pass = { ...pass, near: distance, far: distance }
        const atEnd = Math.hypot(x - ax - dx, y - ay - dy)
        pass.far = atEnd >= reach ? Infinity : Math.max(pass.far, atEnd)
      }
      if (kind[i] === 2) broken = true
    }
    return 1 - missed * (1 - pass.best)
  }
})

test('without an error the expected share is the covered share', () => {
  const anyWalk = fc.array(fc.double({ min: -1, max: 21, noNaN: true }), { minLength: 2, maxLength: 30 })
  fc.assert(
    fc.property(anyWalk, fc.double({ min: 0.1, max: 4, noNaN: true }), (xy, widthM) => {
      const walk = track(xy.slice(0, xy.length & ~1))
      const field = areaOf(box(0, 0, 20, 20))
      const grid = coverGrid([walk], field, { ...limits, widthM, cellM: 0.25 })
      const found = coverChance([walk], field, options(widthM, 0, { cellM: 0.25 }))
      expect(found.chance.map((p) => (Number.isNaN(p) ? 255 : p))).toEqual(
        Float32Array.from(grid.passes, (passes) => (passes === 255 ? 255 : Math.min(1, passes))),
      )
      expect(found.expectedShare).toBeCloseTo(grid.coveredCells / grid.areaCells, 12)
    }),
    { numRuns: 60 },
  )
})

test('settings out of range are refused in words', () => {
  const field = areaOf(box(0, 0, 20, 20))
  const fault = (wanted: ChanceOptions): string => faultOf(() => coverChance([track([0, 0])], field, wanted))
  expect(fault(options(1, -1))).toMatch(/^setting-out-of-range: .*0 m or more, not -1/)
  expect(fault(options(1, 1, { coilM: 0.2 }))).toContain('given together')
  expect(fault(options(1, 1, { coilM: 0, rateHz: 1 }))).toContain('longer than 0 m')
  expect(fault(options(1, 1, { coilM: 0.2, rateHz: -1 }))).toContain('above 0 sweeps')
  expect(fault(options(0, 1))).toContain('wider than 0 m')
})
