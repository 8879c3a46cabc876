import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { seededRandom } from '#core/random'
import {
  aoristicSum,
  aoristicWeights,
  certaintyWorth,
  type Dated,
  datedFinds,
  simulatedEnvelope,
  sliceOf,
  sliceSpan,
  timeSlices,
  yearIndex,
} from './index.ts'

interface Case {
  from: number
  to: number
  width: number
  firstEdge: number
  shares: number[]
}
const cases = JSON.parse(
  readFileSync(new URL('../../../fixtures/dating/aoristic/expected.json', import.meta.url), 'utf8'),
) as Case[]

test('shares are the differences of the uniform distribution of scipy 1.10.1', () => {
  for (const { from, to, width, firstEdge, shares } of cases) {
    const slices = timeSlices({ from, to }, width)
    expect(slices.edges[0]).toBe(firstEdge)
    const found = aoristicWeights({ from, to }, slices)
    expect(found).toHaveLength(shares.length)
    // scipy takes differences of numbers up to 1: some units of the last place, 2e-16 each.
    found.forEach((share, i) => {
      expect(share).toBeCloseTo(shares[i]!, 14)
    })
  }
})

// The method as Ratcliffe 2000 defines it: an event that may have fallen into n slices gives each of them 1/n, and the
// slices are added up. Four objects over four centuries, worked on paper by that rule.
test('objects known to one, two and four centuries give 1, 1/2 and 1/4 to each', () => {
  const slices = timeSlices({ from: 1, to: 400 }, 100)
  const finds = [
    { fromYear: 1, toYear: 400, certainty: null, count: null },
    { fromYear: 101, toYear: 300, certainty: null, count: null },
    { fromYear: 201, toYear: 300, certainty: null, count: null },
    { fromYear: 201, toYear: 400, certainty: null, count: null },
  ]
  const { sum, before, after } = aoristicSum(datedFinds(finds, certaintyWorth).dated, slices)
  expect([...sum]).toEqual([0.25, 0.75, 2.25, 0.75])
  expect([before, after]).toEqual([0, 0])
})

test('the published figures: eight units of time give each an eighth, 168 give each about 0.0059', () => {
  // J. Ratcliffe, "Aoristic analysis" (jratcliffe.net, read 28 November 2026): an event between 8 and 16 o'clock has 0.125 in each of its hours, nothing
  // in others. Manual of the R package aoristic 1.1.1 (CRAN): a week of 168 hours gives each "~0.0059 (1/168)". An hour of theirs is a year here.
  const day = aoristicWeights({ from: 9, to: 16 }, timeSlices({ from: 1, to: 24 }, 1))
  expect([...day]).toEqual(Array.from({ length: 24 }, (_, hour) => (hour >= 8 && hour < 16 ? 0.125 : 0)))
  for (const share of aoristicWeights({ from: 1, to: 168 }, timeSlices({ from: 1, to: 168 }, 1)))
    expect(Math.abs(share - 0.0059)).toBeLessThan(0.0001)
})

/** What the slices hold on average over everything that may have been: each find there or not, in each year of its span, in every combination. */
function byTryingAll(rows: readonly Row[], edges: Int32Array): number[] {
  const sums = Array.from({ length: edges.length - 1 }, () => 0)
  const visit = (i: number, weight: number, counts: readonly number[]): void => {
    const row = rows[i]
    if (row === undefined) {
      counts.forEach((count, slice) => {
        sums[slice]! += weight * count
      })
      return
    }
    visit(i + 1, weight * (1 - row.chance), counts)
    const years: number[] = []
    for (let year = row.span.from; year <= row.span.to; year += 1) if (year !== 0) years.push(year)
    for (const year of years) {
      const at = year < 0 ? year + 1 : year
      const here = counts.map((count, s) => count + (edges[s]! <= at && at < edges[s + 1]! ? row.pieces : 0))
      visit(i + 1, (weight * row.chance) / years.length, here)
    }
  }
  visit(
    0,
    1,
    sums.map(() => 0),
  )
  return sums
}

test('the sum is the mean over every way in which the finds may have been made', () => {
  const near = fc
    .tuple(fc.integer({ min: -8, max: 8 }), fc.integer({ min: 0, max: 6 }))
    .map(([from, more]) => {
      const first = from === 0 ? 1 : from
      const last = first + more
      return { from: first, to: last === 0 ? 1 : last }
    })
  const few = fc.array(fc.record({ ...rowParts, span: near }), { minLength: 1, maxLength: 4 })
  fc.assert(
    fc.property(few, fc.integer({ min: 1, max: 5 }), (rows, width) => {
      const slices = timeSlices({ from: -9, to: 15 }, width)
      const { sum } = aoristicSum(dated(rows), slices)
      byTryingAll(rows, slices.edges).forEach((mean, i) => {
        expect(sum[i]).toBeCloseTo(mean, 10)
      })
    }),
    { numRuns: 40 },
  )
})

test('slices begin with AD 1 whatever is asked', () => {
  const slices = timeSlices({ from: -150, to: 43 }, 100)
  expect([0, 1, 2].map((i) => sliceSpan(slices, i))).toEqual([
    { from: -200, to: -101 },
    { from: -100, to: -1 },
    { from: 1, to: 100 },
  ])
  expect([-201, -200, -1, 1, 100, 101].map((year) => sliceOf(slices, yearIndex(year)))).toEqual([
    -1, 0, 1, 2, 2, 3,
  ])
  expect(() => timeSlices({ from: 1, to: 100 }, 0)).toThrow(RangeError)
  expect(() => timeSlices({ from: -900_000, to: 2000 }, 1)).toThrow(RangeError)
})

const anySpan = fc
  .tuple(fc.integer({ min: -4000, max: 2000 }), fc.integer({ min: 0, max: 3000 }))
  .map(([start, more]) => ({
    from: start <= 0 ? start - 1 : start,
    to: start + more <= 0 ? start + more - 1 : start + more,
  }))
const total = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0)

test('shares add up to 1, and finer slices add up to coarser ones', () => {
  fc.assert(
    fc.property(
      anySpan,
      fc.integer({ min: 1, max: 40 }),
      fc.integer({ min: 2, max: 6 }),
      (span, width, times) => {
        const coarse = timeSlices(span, width * times)
        const fine = timeSlices(sliceSpan(coarse, 0), width)
        const all = {
          edges: Int32Array.from(
            { length: (coarse.edges.length - 1) * times + 1 },
            (_, i) => fine.edges[0]! + i * width,
          ),
        }
        const whole = aoristicWeights(span, coarse)
        const parts = aoristicWeights(span, all)
        expect(total(whole)).toBeCloseTo(1, 9)
        whole.forEach((share, i) => {
          expect(total(parts.slice(i * times, (i + 1) * times))).toBeCloseTo(share, 9)
        })
      },
    ),
  )
})

interface Row {
  readonly span: { readonly from: number; readonly to: number }
  readonly pieces: number
  readonly chance: number
}
const dated = (rows: readonly Row[]): Dated => ({
  from: Int32Array.from(rows, ({ span }) => yearIndex(span.from)),
  to: Int32Array.from(rows, ({ span }) => yearIndex(span.to)),
  pieces: Float64Array.from(rows, ({ pieces }) => pieces),
  chance: Float64Array.from(rows, ({ chance }) => chance),
})
const rowParts = { pieces: fc.integer({ min: 1, max: 9 }), chance: fc.constantFrom(1, 0.75, 0.5) }
const anyRow = fc.record({ span: anySpan, ...rowParts })

test('nothing is lost: before, sums and after add up to pieces times chance', () => {
  fc.assert(
    fc.property(
      fc.array(anyRow, { maxLength: 20 }),
      anySpan,
      fc.integer({ min: 1, max: 200 }),
      (rows, window, width) => {
        const slices = timeSlices(window, Math.max(width, 10))
        const { sum, before, after } = aoristicSum(dated(rows), slices)
        const all = rows.reduce((most, { pieces, chance }) => most + pieces * chance, 0)
        expect(total(sum) + before + after).toBeCloseTo(all, 7)
        const byWeights = new Float64Array(sum.length)
        for (const row of rows) {
          aoristicWeights(row.span, slices).forEach((share, i) => {
            byWeights[i]! += share * row.pieces * row.chance
          })
        }
        sum.forEach((value, i) => {
          expect(value).toBeCloseTo(byWeights[i]!, 7)
        })
      },
    ),
  )
})

test('simulations are the same for a seed, and their mean tends to the sum', () => {
  const rows = Array.from({ length: 60 }, (_, k) => ({
    span: { from: 1 + 7 * k, to: 100 + 13 * k },
    pieces: 1 + (k % 3),
    chance: [1, 0.75, 0.5][k % 3]!,
  }))
  const slices = timeSlices({ from: 1, to: 900 }, 50)
  const finds = dated(rows)
  const run = (seed: number) =>
    simulatedEnvelope(finds, slices, { simulations: 2000, level: 0.95, random: seededRandom(seed) })
  const first = run(5)
  expect(run(5)).toEqual(first)
  expect(run(6)).not.toEqual(first)
  const { sum } = aoristicSum(finds, slices)
  const squares = rows.reduce((most, { pieces }) => most + pieces ** 2, 0)
  first.mean.forEach((mean, i) => {
    // A share p of pieces m has variance at most m² / 4: four standard errors of the mean of 2000.
    expect(Math.abs(mean - sum[i]!)).toBeLessThan(4 * Math.sqrt(squares / 4 / 2000))
    expect(first.low[i]! <= mean && mean <= first.high[i]!).toBe(true)
  })
})

test('finds of one year have no spread', () => {
  const finds = dated([{ span: { from: 150, to: 150 }, pieces: 3, chance: 1 }])
  const { low, high, mean } = simulatedEnvelope(finds, timeSlices({ from: 101, to: 300 }, 100), {
    simulations: 20,
    level: 0.9,
    random: seededRandom(1),
  })
  expect([[...low], [...high], [...mean]]).toEqual([
    [3, 0],
    [3, 0],
    [3, 0],
  ])
})

test('finds without both years, with year 0 or backwards are counted as undated', () => {
  const find = (fromYear: number | null, toYear: number | null) => ({
    fromYear,
    toYear,
    certainty: null,
    count: null,
  })
  const { dated: kept, undated } = datedFinds(
    [find(1, 2), find(null, 2), find(1, null), find(0, 2), find(2, 1), find(1.5, 2)],
    certaintyWorth,
  )
  expect([kept.from.length, undated]).toEqual([1, 5])
})

test('wrong calls are refused', () => {
  const finds = dated([])
  const slices = timeSlices({ from: 1, to: 2 }, 1)
  const random = seededRandom(1)
  expect(() => simulatedEnvelope(finds, slices, { simulations: 5, level: 0.9, random })).toThrow(RangeError)
  expect(() => simulatedEnvelope(finds, slices, { simulations: 50, level: 1, random })).toThrow(RangeError)
})
