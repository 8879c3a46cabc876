import fc from 'fast-check'
import { expect, test } from 'vitest'
import { thinLine } from './thin-line.ts'

const anyLine = fc
  .array(
    fc.tuple(
      fc.double({ min: -500, max: 500, noNaN: true }),
      fc.double({ min: -500, max: 500, noNaN: true }),
    ),
    {
      minLength: 2,
      maxLength: 60,
    },
  )
  .map((pairs) => Float64Array.from(pairs.flat()))

function distanceToLine(x: number, y: number, line: Float64Array): number {
  let least = Infinity
  for (let i = 2; i < line.length; i += 2) {
    const [x0, y0] = [line[i - 2]!, line[i - 1]!]
    const [dx, dy] = [line[i]! - x0, line[i + 1]! - y0]
    const squared = dx * dx + dy * dy
    const t = squared > 0 ? Math.max(0, Math.min(1, ((x - x0) * dx + (y - y0) * dy) / squared)) : 0
    least = Math.min(least, Math.hypot(x - x0 - t * dx, y - y0 - t * dy))
  }
  return least
}

test('no vertex is farther from the thinned line than the tolerance', () => {
  fc.assert(
    fc.property(anyLine, fc.double({ min: 0.01, max: 100, noNaN: true }), (line, tolerance) => {
      const thin = thinLine(line, tolerance)
      for (let i = 0; i < line.length; i += 2) {
        expect(distanceToLine(line[i]!, line[i + 1]!, thin)).toBeLessThanOrEqual(tolerance + 1e-9)
      }
    }),
  )
})

test('the ends stay, and a straight line keeps nothing else', () => {
  expect(thinLine(Float64Array.of(0, 0, 1, 0.001, 2, 0, 3, -0.001, 4, 0), 0.01)).toEqual(
    Float64Array.of(0, 0, 4, 0),
  )
})

test('a line that comes back to its start keeps its far end', () => {
  expect(thinLine(Float64Array.of(0, 0, 5, 0, 10, 0, 5, 0, 0, 0), 0.5)).toEqual(
    Float64Array.of(0, 0, 10, 0, 0, 0),
  )
})
