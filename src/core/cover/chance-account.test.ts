import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { seededRandom, uniform } from '#core/random'
import type { PlanarTrack } from '#core/track'
import { areaOf, box, faultOf, track } from '../../../test/cover/planar-shapes.ts'
import { recordedWalk } from '../../../test/track/recorded-walk.ts'
import {
  type ChanceOptions,
  chanceGaps,
  combineChances,
  coverChance,
  coverGrid,
  coverSpread,
  thinWalk,
} from './index.ts'

const limits = { maxJumpM: 1000, maxJumpS: 60 }
const options = (widthM: number, errorM: number, more: Partial<ChanceOptions> = {}): ChanceOptions => ({
  ...limits,
  widthM,
  cellM: 0.2,
  errorM,
  ...more,
})
const field = areaOf(box(0, 0, 60, 60))
const lanes = (spacing: number): PlanarTrack =>
  track(
    Array.from({ length: 2 * Math.ceil(60 / spacing) }, (_, i) => [
      (Math.floor(i / 2) + 0.5) * spacing,
      i % 4 === 0 || i % 4 === 3 ? -5 : 65,
    ]).flat(),
  )

describe('joined legs and nodes', () => {
  const walk = { ...recordedWalk({ seconds: 1200, noiseM: 0.01 }) }
  const ground = areaOf(box(560_990, 341_990, 561_030, 342_070))

  test.each([
    [2, null],
    [1, 0.25],
    [0.4, 0.25],
  ])('an error of %s m: as with every leg at every cell', (errorM, coilM) => {
    const wanted = options(1.5, errorM, { coilM, rateHz: coilM && 1 })
    const quick = coverChance([walk], ground, wanted)
    const exact = coverChance([walk], ground, { ...wanted, exact: true })
    expect([quick.columns, quick.rows, quick.west, quick.north]).toEqual([
      exact.columns,
      exact.rows,
      exact.west,
      exact.north,
    ])
    // A fifteenth of the error, by the steepest slope of a chance, 0.4 / error: 0.027; the zigzag's means over 15 s besides.
    expect(Math.abs(quick.expectedShare - exact.expectedShare)).toBeLessThan(coilM ? 0.02 : 0.003)
    let [sum, cells, far] = [0, 0, 0]
    for (let p = 0; p < exact.chance.length; p++) {
      expect(Number.isNaN(quick.chance[p]!)).toBe(Number.isNaN(exact.chance[p]!))
      if (Number.isNaN(exact.chance[p]!)) continue
      const off = Math.abs(quick.chance[p]! - exact.chance[p]!)
      sum += off
      cells++
      if (off > 0.03) far++
    }
    expect(sum / cells).toBeLessThan(coilM ? 0.02 : 0.003)
    // Where one approach ends and the next begins chances leap, at a few cells in a hundred of which a node may lie on the other side.
    expect(far / cells).toBeLessThan(coilM ? 0.05 : 0.01)
  })

  test('cells ahead left to the next leg: the same chances, for any walk', () => {
    // Places 2 m apart, so that only legs on one line are joined; cells of half a metre are their own nodes.
    const small = areaOf(box(0, 0, 16, 12))
    const place = fc.tuple(fc.integer({ min: -3, max: 10 }), fc.integer({ min: -3, max: 8 }))
    fc.assert(
      fc.property(
        fc.array(place, { minLength: 1, maxLength: 25 }),
        fc.constantFrom(0, 1),
        (places, errorM) => {
          const walk = track(places.flatMap(([x, y]) => [2 * x + 0.13, 2 * y + 0.29]))
          const wanted = options(1.5, errorM, { cellM: 0.5, ownChance: 0.8 })
          const quick = coverChance([walk], small, wanted)
          const exact = coverChance([walk], small, { ...wanted, exact: true })
          for (let p = 0; p < exact.chance.length; p++)
            expect(Math.abs(quick.chance[p]! - exact.chance[p]!)).toBeLessThan(1e-6)
        },
      ),
    )
  })

  test('no fix lies farther from the joined legs than allowed, and lone fixes and breaks stay', () => {
    const place = fc.integer({ min: -3000, max: 3000 }).map((n) => n / 1000)
    fc.assert(
      fc.property(
        fc.array(place, { minLength: 2, maxLength: 60 }),
        fc.constantFrom(0.05, 0.5, 2),
        fc.nat(30),
        (xy, tolerance, cut) => {
          const whole = track(xy.slice(0, xy.length & ~1))
          const fixes = whole.xy.length / 2
          const kind = Uint8Array.from({ length: fixes }, (_, i) => (i + 1 === fixes || i === cut ? 0 : 1))
          if (fixes === 1) kind[0] = 2
          if (cut === 0 && fixes > 1) kind[0] = 2
          if (cut + 2 === fixes) kind[fixes - 1] = 2
          const thin = thinWalk(whole, { kind }, tolerance)
          expect(Array.from(thin.kind).filter((k) => k === 2)).toHaveLength(
            Array.from(kind).filter((k) => k === 2).length,
          )
          for (let k = 0; k < thin.kind.length; k++) {
            if (thin.kind[k] !== 1) continue
            for (let i = thin.fix[k]!; i <= thin.fix[k + 1]!; i++) {
              const [ax, ay] = [thin.track.xy[2 * k]!, thin.track.xy[2 * k + 1]!]
              const [dx, dy] = [thin.track.xy[2 * k + 2]! - ax, thin.track.xy[2 * k + 3]! - ay]
              const [px, py] = [whole.xy[2 * i]! - ax, whole.xy[2 * i + 1]! - ay]
              const square = dx * dx + dy * dy
              const along = square > 0 ? Math.max(0, Math.min(1, (px * dx + py * dy) / square)) : 0
              // Past the end a fix may lie the tolerance beyond, and the tolerance aside.
              expect(Math.hypot(px - along * dx, py - along * dy)).toBeLessThanOrEqual(1.4143 * tolerance)
            }
          }
        },
      ),
    )
  })
})

test('the errors of fixes: where they are all alike it is one error, and larger ones spread the chance', () => {
  const walk = track(Array.from({ length: 61 }, (_, i) => [30, i]).flat())
  const alike = coverChance([walk], field, options(2, 0.5, { errorOfFix: [new Float64Array(61).fill(0.5)] }))
  const plain = coverChance([walk], field, options(2, 0.5))
  expect(alike.expectedShare).toBe(plain.expectedShare)
  const worse = coverChance(
    [walk],
    field,
    options(2, 0.5, { errorOfFix: [Float64Array.from({ length: 61 }, (_, i) => (i < 30 ? 0.5 : 3))] }),
  )
  const at = (found: typeof plain, x: number, y: number): number =>
    found.chance[
      Math.floor((found.north - y) / found.cellM) * found.columns + Math.floor((x - found.west) / found.cellM)
    ]!
  expect(at(worse, 30, 10)).toBeCloseTo(at(plain, 30, 10), 2)
  expect(at(worse, 30, 55)).toBeLessThan(0.3)
  expect(at(worse, 34, 55)).toBeGreaterThan(at(plain, 34, 55) + 0.1)
})

test('the own chance of the instrument counts once a pass', () => {
  const wide = options(4, 0, { ownChance: 0.7 })
  const once = coverChance([track([30, -5, 30, 65])], field, wide)
  expect(once.share50).toBeCloseTo(4 / 60, 2)
  expect(once.share80).toBe(0)
  const twice = coverChance([track([30, -5, 30, 65]), track([30, 65, 30, -5])], field, wide)
  expect(twice.expectedShare / once.expectedShare).toBeCloseTo((1 - 0.3 ** 2) / 0.7, 4)
  expect(twice.share80).toBeCloseTo(4 / 60, 2)
  expect(twice.share95).toBe(0)
})

test('the chance that random walks leave is that of search theory, 1 - exp(-C)', () => {
  // Koopman's random search: 120 straight walks through a 60 m field, each place and direction alike; C is swept over area.
  const random = seededRandom(11)
  const walks = Array.from({ length: 120 }, () => {
    const turn = uniform(random, 0, Math.PI)
    const aside = uniform(random, -43, 43)
    const [c, s] = [Math.cos(turn), Math.sin(turn)]
    return track([
      30 - s * aside - 90 * c,
      30 + c * aside - 90 * s,
      30 - s * aside + 90 * c,
      30 + c * aside + 90 * s,
    ])
  })
  const { passSum, areaCells } = coverGrid(walks, field, { ...limits, widthM: 0.8, cellM: 0.2 })
  const coverage = passSum / areaCells
  const { expectedShare } = coverChance(walks, field, options(0.8, 0))
  expect(coverage).toBeGreaterThan(0.8)
  // 120 walks leave the share itself a spread of about 0.015.
  expect(Math.abs(expectedShare - (1 - Math.exp(-coverage)))).toBeLessThan(0.03)
})

test('visits combine as independent, whatever their order, and only on the same cells', () => {
  const first = coverChance([lanes(3)], field, options(1.5, 1))
  const second = coverChance([track([0, 30, 60, 30])], field, options(1.5, 1))
  const both = combineChances([first, second])
  expect(combineChances([second, first]).chance).toEqual(both.chance)
  const p = 150 * first.columns + 120
  expect(both.chance[p]).toBeCloseTo(1 - (1 - first.chance[p]!) * (1 - second.chance[p]!), 6)
  expect(both.expectedShare).toBeGreaterThan(first.expectedShare)
  expect(combineChances([first]).expectedShare).toBe(first.expectedShare)
  expect(() => combineChances([first, { ...second, west: 5 }])).toThrow('different cells')
  expect(() => combineChances([])).toThrow(RangeError)
})

test('gaps at a chosen chance are the ground below it', () => {
  const found = coverChance([lanes(4)], field, options(1.5, 0.5))
  for (const level of [0.3, 0.5, 0.9]) {
    const gaps = chanceGaps(found, level, { minGapM2: 0 })
    const below = found.chance.filter((p) => p < level).length * found.cellM ** 2
    expect(gaps.reduce((sum, { areaM2 }) => sum + areaM2, 0)).toBeCloseTo(below, 6)
  }
  expect(faultOf(() => chanceGaps(found, 0, { minGapM2: 0 }))).toContain('setting-out-of-range')
})

describe('simulated walks', () => {
  const wanted = { ...limits, widthM: 2, cellM: 0.2, errorM: 1.5, memoryS: 100, simulations: 60, seed: 7 }

  test('a seed repeats them, another does not', () => {
    const once = coverSpread([lanes(4)], field, wanted)
    expect(coverSpread([lanes(4)], field, wanted)).toEqual(once)
    expect(coverSpread([lanes(4)], field, { ...wanted, seed: 8 }).mean).not.toBe(once.mean)
    expect(once.low).toBeLessThan(once.median)
    expect(once.median).toBeLessThan(once.high)
  })

  test('one lane: their mean is the expected share', () => {
    // A lane by the edge, so that the shift matters: the closed form is the one of coverChance, checked elsewhere.
    const lane = track([0.5, -20, 0.5, 80])
    const { mean, sd } = coverSpread([lane], field, { ...wanted, memoryS: 1e9, simulations: 400 })
    const { expectedShare } = coverChance([lane], field, options(2, 1.5, { exact: true }))
    expect(Math.abs(mean - expectedShare)).toBeLessThan((4 * sd) / Math.sqrt(400))
  })

  test('lanes that shift together leave the share alone; lanes that shift apart do not', () => {
    const far = track(
      Array.from({ length: 80 }, (_, i) => [
        -9 + 2 * Math.floor(i / 2),
        i % 4 === 0 || i % 4 === 3 ? -20 : 80,
      ]).flat(),
    )
    const together = coverSpread([far], field, { ...wanted, memoryS: 1e9 })
    expect(together.mean).toBeGreaterThan(0.999)
    const apart = coverSpread([far], field, { ...wanted, memoryS: 60 })
    expect(apart.mean).toBeLessThan(0.85)
    const sure = coverSpread([far], field, { ...wanted, errorM: 0 })
    expect(sure.sd).toBeLessThan(1e-12)
  })

  test('each track errs by its own error', () => {
    const [one, two] = [track([20, -20, 20, 80]), track([0.5, -20, 0.5, 80])]
    const spread = (errorOfTrack: number[]) => coverSpread([one, two], field, { ...wanted, errorOfTrack })
    const alike = coverSpread([one, two], field, { ...wanted, errorM: 1.5 })
    expect(spread([1.5, 1.5])).toEqual(alike)
    // The lane in the middle covers as much wherever it lies; the one at the edge does not.
    expect(spread([1.5, 0]).sd).toBeLessThan(0.2 * spread([0, 1.5]).sd)
    expect(spread([0.8, 2]).notes[0]).toContain('from 0.8 to 2 m')
    expect(faultOf(() => spread([1, -1]))).toContain('0 m or more')
  })

  test('settings out of range are refused in words', () => {
    const fault = (more: Partial<typeof wanted>): string =>
      faultOf(() => coverSpread([lanes(4)], field, { ...wanted, ...more }))
    expect(fault({ simulations: 0 })).toMatch(/^setting-out-of-range: Simulations are 1 to 10000/)
    expect(fault({ seed: -1 })).toContain('The seed must be')
    expect(fault({ memoryS: 0 })).toContain('above 0 s')
    expect(fault({ errorM: Number.NaN })).toContain('0 m or more')
  })
})
