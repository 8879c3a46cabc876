import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { bandStatistics } from './band-statistics.ts'
import { alphaOf, type Bands } from './bands.ts'
import { componentWeights, decorrelation } from './decorrelation.ts'
import { cutOff, equalisation, equalised } from './equalisation.ts'
import { applyView, prepareView } from './index.ts'
import { surroundings } from './local-contrast.ts'
import { brightnessOf } from './luminance.ts'
import { percentileStretch } from './stretch.ts'

// What numpy, scipy, OpenCV and scikit-image of Debian 12 say: fixtures/imagery/SOURCE.md.
const folder = new URL('../../../fixtures/imagery/views/', import.meta.url)
const expected = JSON.parse(readFileSync(new URL('expected.json', folder), 'utf8'))
const { columns, rows, sample }: { columns: number; rows: number; sample: number[] } = expected
const n = columns * rows
const bytes = new Uint8Array(readFileSync(new URL('colours.u8', folder)))
const planes = [0, 1, 2, 3].map((band) => bytes.slice(band * n, (band + 1) * n))
const image = (bands: Bands['bands'], noData: number | null = null): Bands => ({
  columns,
  rows,
  bands,
  alpha: null,
  noData,
})
const wide = image([new Uint16Array(readFileSync(new URL('wide.u16', folder)).buffer.slice(0))], 0)
const whole = { column: 0, row: 0, stepX: 1, stepY: 1 }
const all = new Uint8Array(n).fill(255)

const largestOff = (got: ArrayLike<number>, want: ArrayLike<number>): number =>
  Array.from(want).reduce((most, value, i) => Math.max(most, Math.abs(value - got[i]!)), 0)

describe.each([
  ['three bands', planes.slice(0, 3), expected.threeBands],
  ['four bands', planes, expected.fourBands],
])('%s', (_, bands, want) => {
  test('means and covariances are those of numpy', () => {
    const { mean, covariance } = bandStatistics(bands, all)
    expect(largestOff(mean, want.mean)).toBeLessThan(1e-11)
    expect(largestOff(covariance, want.covariance.flat())).toBeLessThan(1e-9)
  })

  test('the decorrelation stretch is that of scipy, to the rounding to bytes', () => {
    const overview = image(bands)
    const painted = applyView(prepareView(overview, { view: 'decorrelated' }, { pixelM: 1 }), overview, whole)
    expect(painted.channels).toBe(4)
    const { matrix, offset } = decorrelation(overview, all)
    sample.forEach((at, s) => {
      for (let k = 0; k < 3; k++) {
        const value: number = want.decorrelated[s][k]
        const own = bands.reduce(
          (sum, band, j) => sum + matrix[k * bands.length + j]! * band[at]!,
          offset[k]!,
        )
        expect(Math.abs(own - value)).toBeLessThan(1e-9)
        const shown = Math.max(0, Math.min(255, value))
        expect(Math.abs(painted.pixels[4 * at + k]! - shown)).toBeLessThan(0.5 + 1e-9)
      }
    })
  })

  test('principal components are those of numpy, and stretched between its percentiles', () => {
    const overview = image(bands)
    bands.forEach((_, k) => {
      const weights = componentWeights(overview, all, k + 1)
      expect(largestOff(weights, want.components[k])).toBeLessThan(1e-10)
      const prepared = prepareView(overview, { view: 'component', number: k + 1 }, { pixelM: 1 })
      const painted = applyView(prepared, overview, whole)
      const [low, high]: [number, number] = want.componentCuts[k]
      sample.forEach((at, s) => {
        const grey = (255 * (want.componentValues[s][k] - low)) / (high - low)
        expect(Math.abs(painted.pixels[2 * at]! - Math.max(0, Math.min(255, grey)))).toBeLessThan(0.5 + 1e-6)
      })
    })
  })
})

test('percentiles are those of numpy, over what is not nodata', () => {
  const alpha = alphaOf(wide, [0])
  const two = percentileStretch(wide.bands[0]!, alpha)
  expect(largestOff([two.low, two.high], expected.wide.cut2)).toBeLessThan(1e-9)
  const half = percentileStretch(wide.bands[0]!, alpha, 0.5)
  expect(largestOff([half.low, half.high], expected.wide['cut0.5'])).toBeLessThan(1e-9)
})

test.each([
  ['brightness of colours', brightnessOf(image(planes)), all, expected.luma],
  ['wide numbers with a corner of nothing', wide.bands[0]!, alphaOf(wide, [0]), expected.wide],
])('local mean and spread are those of scipy: %s', (_, values, alpha, want) => {
  const { across, perNode, mean, spread } = surroundings(values, alpha, { columns, rows }, want.reach)
  let looked = 0
  sample.forEach((at, s) => {
    const [column, row] = [at % columns, Math.floor(at / columns)]
    if (alpha[at] === 0 || column % perNode !== 0 || row % perNode !== 0) return
    const node = (row / perNode) * across + column / perNode
    // Kept as 32-bit floats.
    expect(Math.abs(mean[node]! - want.mean[s])).toBeLessThan(1e-6 * want.mean[s])
    const least = Math.max(want.spread[s], want.wholeSpread / 10)
    expect(Math.abs(spread[node]! - least)).toBeLessThan(1e-5 * least)
    looked += 1
  })
  expect(looked).toBeGreaterThan(20)
})

test('equalisation without a limit is that of OpenCV, to its rounding', () => {
  const grey = new Uint8Array(readFileSync(new URL('grey.u8', folder)))
  const { across, down, unlimited }: { across: number; down: number; unlimited: number[] } =
    expected.equalised
  const made = equalisation(grey, all, { columns, rows }, columns / across, 256)
  expect([made.across, made.down]).toEqual([across, down])
  // OpenCV blends by the number of a pixel, not by its middle.
  const place = { ...whole, left: -0.5, top: -0.5 }
  const values = equalised(grey, { columns, rows }, { ...made, mappings: atUpperEnds(made.mappings) }, place)
  const own = sample.map((at) => values[at]!)
  // It rounds the mapping, and then the blend of four.
  expect(largestOff(own, unlimited)).toBeLessThan(1)
  expect(own.reduce((sum, value, s) => sum + value - unlimited[s]!, 0) / own.length).toBeCloseTo(0, 1)
})

test('counts are cut off and spread to the level that a root finder gives', () => {
  const { counts, cut }: { counts: number[][]; cut: number[][] } = expected.equalised
  counts.forEach((histogram, k) => {
    const own = cutOff(Float64Array.from(histogram), 3)
    expect(largestOff(own, cut[k]!)).toBeLessThan(1e-5)
  })
})

/** The mappings as OpenCV has them: the cumulative share at the upper end of a level, not at its middle, times 255. */
function atUpperEnds(mappings: Float32Array): Float32Array {
  let below = 0
  return mappings.map((middle, at) => {
    if (at % 256 === 0) below = 0
    below = (2 * (middle + 0.5)) / 256 - below
    return 255 * below
  })
}
