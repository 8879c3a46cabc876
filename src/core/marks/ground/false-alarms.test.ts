import { expect, test } from 'vitest'
import { seededRandom, unit } from '#core/random'
import { falseAlarmCurve, falseAlarmsPerMpx } from './false-alarms.ts'

test('of log odds that fall off exponentially the rate is found, also where none was seen', () => {
  const random = seededRandom(3)
  const odds = Array.from({ length: 5000 }, () => -8 - 1.5 * Math.log(1 - unit(random)))
  const curve = falseAlarmCurve(odds, 2)
  // By construction 2500 exp(-(x + 8) / 1.5) a million pixels. The mean of 60 excesses is known to 13 %, which grows with the distance.
  for (const [at, within] of [
    [-5, 1.15],
    [-2, 1.4],
    [3, 3],
  ] as const) {
    const ratio = falseAlarmsPerMpx(curve, at) / (2500 * Math.exp(-(at + 8) / 1.5))
    expect(ratio).toBeGreaterThan(1 / within)
    expect(ratio).toBeLessThan(within)
  }
})

test('a rate never rises with the odds, and nothing is claimed for ever', () => {
  const random = seededRandom(5)
  const curve = falseAlarmCurve(
    Array.from({ length: 300 }, () => -6 + 4 * unit(random)),
    1,
  )
  let last = Infinity
  for (let at = -8; at < 40; at += 0.25) {
    const rate = falseAlarmsPerMpx(curve, at)
    expect(rate).toBeLessThanOrEqual(last)
    last = rate
  }
  expect(last).toBeCloseTo(1e-4, 10)
})

test('bare ground that gave nothing at all is told to give half a candidate there, at the least that is looked at', () => {
  const curve = falseAlarmCurve([], 0.25, 4.5)
  expect(falseAlarmsPerMpx(curve, 4.5)).toBe(2)
  expect(falseAlarmsPerMpx(curve, 5.5)).toBeCloseTo(2 / Math.E, 10)
})
