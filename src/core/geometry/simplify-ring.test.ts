import fc from 'fast-check'
import { expect, test } from 'vitest'
import { ringArea, ringOfArea, simplifyRing } from './index.ts'

const closed = (ring: Float64Array): Float64Array => Float64Array.of(...ring, ring[0]!, ring[1]!)

function distanceToRing(x: number, y: number, ring: Float64Array): number {
  const line = closed(ring)
  let nearest = Infinity
  for (let i = 0; i + 3 < line.length; i += 2) {
    const [ax, ay] = [line[i]! - x, line[i + 1]! - y]
    const [dx, dy] = [line[i + 2]! - line[i]!, line[i + 3]! - line[i + 1]!]
    const square = dx * dx + dy * dy
    const t = square > 0 ? Math.max(0, Math.min(1, -(ax * dx + ay * dy) / square)) : 0
    nearest = Math.min(nearest, Math.hypot(ax + t * dx, ay + t * dy))
  }
  return nearest
}

/** Rings about the origin, so that they do not cross themselves. */
const anyRing = fc
  .array(fc.double({ min: 5, max: 20, noNaN: true }), { minLength: 3, maxLength: 80 })
  .map((radii) =>
    Float64Array.from(
      radii.flatMap((radius, i) => {
        const angle = (2 * Math.PI * i) / radii.length
        return [radius * Math.cos(angle), radius * Math.sin(angle)]
      }),
    ),
  )

test('every vertex left out lies near the thinned ring, whose vertices are some of its own', () => {
  fc.assert(
    fc.property(anyRing, fc.double({ min: 0.01, max: 3, noNaN: true }), (ring, tolerance) => {
      const thin = simplifyRing(ring, tolerance)
      const own = new Set(
        Array.from({ length: ring.length / 2 }, (_, i) => `${ring[2 * i]} ${ring[2 * i + 1]}`),
      )
      for (let i = 0; i < thin.length; i += 2) expect(own.has(`${thin[i]} ${thin[i + 1]}`)).toBe(true)
      // A vertex that the edge has come back over may be as far off as the tolerance both along and across.
      for (let i = 0; i < ring.length; i += 2)
        expect(distanceToRing(ring[i]!, ring[i + 1]!, thin)).toBeLessThanOrEqual(
          tolerance * Math.SQRT2 + 1e-9,
        )
    }),
  )
})

test('vertices on straight sides go, corners stay', () => {
  const square = Float64Array.of(0, 0, 1, 0, 2, 0, 4, 0, 4, 2, 4, 4, 3, 4, 0, 4, 0, 3)
  expect([...simplifyRing(square, 0.1)]).toEqual([0, 0, 4, 0, 4, 4, 0, 4])
  expect([...simplifyRing(square, 0)]).toEqual([0, 0, 4, 0, 4, 4, 0, 4])
})

test('a staircase becomes a slope', () => {
  const steps = [0, 0]
  for (let i = 0; i < 50; i++) steps.push(2 * i + 2, i, 2 * i + 2, i + 1)
  const thin = simplifyRing(Float64Array.of(...steps, 0, 50), 1)
  expect(thin.length / 2).toBeLessThanOrEqual(5)
})

test('a ring is given the area wanted by moving its edges, whichever way it winds', () => {
  fc.assert(
    fc.property(
      anyRing,
      fc.double({ min: -0.03, max: 0.03, noNaN: true }),
      fc.boolean(),
      (ring, more, back) => {
        const turned = back
          ? Float64Array.from(
              { length: ring.length },
              (_, i) => ring[ring.length - 2 - (i - (i % 2)) + (i % 2)]!,
            )
          : ring
        const wanted = Math.abs(ringArea(closed(turned))) * (1 + more)
        const moved = ringOfArea(turned, wanted, 5)
        expect(moved).not.toBeNull()
        expect(Math.abs(ringArea(closed(moved!)))).toBeCloseTo(wanted, 8)
        expect(Math.sign(ringArea(closed(moved!)))).toBe(back ? -1 : 1)
      },
    ),
  )
})

test('a square grown by half a metre on each side', () => {
  const [x0, y0, x1] = ringOfArea(Float64Array.of(0, 0, 2, 0, 2, 2, 0, 2), 9, 1)!
  expect([x0, y0, x1]).toEqual([-0.5, -0.5, 2.5])
  expect(ringOfArea(Float64Array.of(0, 0, 2, 0, 2, 2, 0, 2), 9, 0.4)).toBeNull()
  expect(ringOfArea(Float64Array.of(0, 0, 2, 0, 2, 2, 0, 2), -1, 10)).toBeNull()
})
