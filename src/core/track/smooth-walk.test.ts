import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { recordedWalk } from '../../../test/track/recorded-walk.ts'
import { smoothWalk, type WalkPiece } from './index.ts'

const model = { accelerationM2S3: 0.1, firstSpeedMS: 2 }

/** Against a sparse least squares solution, numpy 2.4.6 and scipy 1.17.1: fixtures/track. Both are exact; 1e-6 m is the figure. */
describe('least squares by scipy 1.17.1, fixtures/track/smoothing', () => {
  test.each(['one-a-second', 'uneven', 'ten-a-second'])('%s', (name) => {
    const read = JSON.parse(
      readFileSync(new URL(`../../../fixtures/track/smoothing/${name}.json`, import.meta.url), 'utf8'),
    )
    const piece: WalkPiece = {
      time: Float64Array.from(read.time),
      xy: Float64Array.from(read.xy),
      errorM: Float64Array.from(read.errorM),
    }
    const found = smoothWalk(piece, read)
    let worst = 0
    for (const part of ['xy', 'velocity', 'errorM', 'velocityErrorMS'] as const) {
      expect(found[part]).toHaveLength(read.expected[part].length)
      for (let k = 0; k < found[part].length; k++)
        worst = Math.max(worst, Math.abs(found[part][k]! - read.expected[part][k]))
    }
    expect(worst).toBeLessThan(1e-6)
  })
})

const anyPiece = fc
  .array(
    fc.record({
      x: fc.double({ min: -50, max: 50, noNaN: true }),
      y: fc.double({ min: -50, max: 50, noNaN: true }),
      after: fc.integer({ min: 1, max: 300 }),
      error: fc.double({ min: 0.01, max: 8, noNaN: true }),
    }),
    { minLength: 1, maxLength: 60 },
  )
  .map((fixes): WalkPiece => {
    let t = 0
    return {
      time: Float64Array.from(fixes, ({ after }) => {
        t += after / 10
        return t
      }),
      xy: Float64Array.from(fixes.flatMap(({ x, y }) => [x, y])),
      errorM: Float64Array.from(fixes, ({ error }) => error),
    }
  })

const largest = (a: Float64Array, b: Float64Array): number =>
  a.reduce((most, value, k) => Math.max(most, Math.abs(value - b[k]!)), 0)

test('a walk later, elsewhere and turned is smoothed to the same walk', () => {
  fc.assert(
    fc.property(
      anyPiece,
      fc.integer({ min: -1_000_000, max: 1_000_000 }),
      fc.double({ min: 0, max: 6.28, noNaN: true }),
      (piece, by, turn) => {
        const [c, s] = [Math.cos(turn), Math.sin(turn)]
        const turned = (xy: Float64Array): Float64Array =>
          Float64Array.from(xy, (value, k) =>
            k % 2 === 0 ? c * value - s * xy[k + 1]! : s * xy[k - 1]! + c * value,
          )
        const plain = smoothWalk(piece, model)
        const later = smoothWalk({ ...piece, time: piece.time.map((t) => t + by) }, model)
        const moved = smoothWalk({ ...piece, xy: piece.xy.map((value) => value + by) }, model)
        const round = smoothWalk({ ...piece, xy: turned(piece.xy) }, model)
        expect(largest(later.xy, plain.xy)).toBeLessThan(1e-6)
        expect(
          largest(
            moved.xy.map((value) => value - by),
            plain.xy,
          ),
        ).toBeLessThan(1e-6)
        expect(largest(round.xy, turned(plain.xy))).toBeLessThan(1e-6)
        expect(largest(round.velocity, turned(plain.velocity))).toBeLessThan(1e-6)
        expect(largest(round.errorM, plain.errorM)).toBe(0)
      },
    ),
  )
})

test('an error of 0 leaves the fixes, and no smoothed place is less sure than its fix', () => {
  fc.assert(
    fc.property(anyPiece, (piece) => {
      const believed = smoothWalk({ ...piece, errorM: new Float64Array(piece.time.length) }, model)
      expect(largest(believed.xy, piece.xy)).toBeLessThan(1e-9)
      expect(Math.max(...believed.errorM)).toBeLessThan(1e-9)
      const { errorM } = smoothWalk(piece, model)
      for (let i = 0; i < errorM.length; i++) expect(errorM[i]).toBeLessThanOrEqual(piece.errorM[i]! + 1e-9)
    }),
  )
})

test('the errors told hold: true places lie within two of them for about 95 of 100 fixes', () => {
  const truth = recordedWalk({ seconds: 3000, noiseM: 0 })
  const noisy = recordedWalk({ seconds: 3000, noiseM: 1, seed: 8 })
  const errorM = new Float64Array(noisy.time!.length).fill(1)
  const found = smoothWalk({ time: noisy.time!, xy: noisy.xy, errorM }, model)
  let inside = 0
  for (let k = 0; k < found.xy.length; k++)
    if (Math.abs(found.xy[k]! - truth.xy[k]!) < 2 * found.errorM[k >> 1]!) inside++
  expect(inside / found.xy.length).toBeGreaterThan(0.93)
  expect(found.errorM[1500]).toBeLessThan(0.5)
})

test('times that do not ascend are a wrong call', () => {
  const piece = {
    xy: Float64Array.of(0, 0, 1, 1),
    errorM: Float64Array.of(1, 1),
    time: Float64Array.of(5, 5),
  }
  expect(() => smoothWalk(piece, model)).toThrow(RangeError)
  expect(
    smoothWalk({ xy: new Float64Array(0), errorM: new Float64Array(0), time: new Float64Array(0) }, model).xy,
  ).toHaveLength(0)
})
