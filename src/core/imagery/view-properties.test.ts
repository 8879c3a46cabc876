import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { normal, seededRandom, uniform } from '#core/random'
import { equalisation, equalised } from './equalisation.ts'
import {
  applyView,
  type Bands,
  type BandValues,
  bandsFromInterleaved,
  greenRedIndex,
  type ImageView,
  imageViewsFor,
  normalisedDifferenceIndex,
  type PaintedTile,
  prepareView,
  visibleAtmosphericIndex,
} from './index.ts'

type Numbers = 'bytes' | 'words' | 'floats'
const kinds: readonly Numbers[] = ['bytes', 'words', 'floats']
const made = { bytes: Uint8Array, words: Uint16Array, floats: Float32Array }
const scales = { bytes: 1, words: 200, floats: 0.004 }
const colours = { red: 1, green: 2, blue: 3, nearInfrared: 4 }

/** A picture with soft shapes, noise, and holes told by alpha, by nodata or by NaN. */
function picture(kind: Numbers, columns: number, rows: number, bandCount: number, seed: number): Bands {
  const random = seededRandom(seed)
  const light = (x: number, y: number): number => 120 + 60 * Math.sin(x / 9) * Math.cos(y / 7)
  const noData = kind === 'words' ? 0 : null
  const hole = (x: number, y: number): boolean => Math.hypot(x - columns / 3, y - rows / 2) < 6
  const bands = Array.from({ length: bandCount }, (_, band) => {
    const values: BandValues = new made[kind](columns * rows)
    for (let i = 0; i < values.length; i++) {
      const [x, y] = [i % columns, Math.floor(i / columns)]
      const value = Math.max(
        3,
        Math.min(252, (1 - 0.15 * band) * light(x + 3 * band, y) + 8 * normal(random)),
      )
      values[i] = scales[kind] * value
      if (hole(x, y)) values[i] = kind === 'floats' ? Number.NaN : 0
    }
    return values
  })
  const alpha = kind === 'bytes' ? new Uint8Array(columns * rows).fill(255) : null
  for (let i = 0; alpha && i < alpha.length; i++)
    if (hole(i % columns, Math.floor(i / columns))) alpha[i] = 0
    else if (i % 11 === 0) alpha[i] = 128
  return { columns, rows, bands, alpha, noData }
}

function cut(
  { columns, bands, alpha, noData }: Bands,
  x: number,
  y: number,
  wide: number,
  high: number,
): Bands {
  const part = <Values extends BandValues>(values: Values): Values => {
    const out = values.slice(0, wide * high) as Values
    for (let row = 0; row < high; row++)
      for (let column = 0; column < wide; column++)
        out[row * wide + column] = values[(y + row) * columns + x + column]!
    return out
  }
  const cutAlpha = alpha === null ? null : part(alpha as Uint8Array)
  return { columns: wide, rows: high, bands: bands.map(part), alpha: cutAlpha, noData }
}

const viewOf = (view: ImageView['view']): ImageView => ({ view, number: 2, radiusM: 12 })

describe.each(kinds)('%s', (kind) => {
  const overview = picture(kind, 60, 44, 4, 1)
  const level = picture(kind, 150, 110, 4, 2)
  const step = { stepX: 60 / 150, stepY: 44 / 110 }

  test.each(imageViewsFor(4, colours))('a tile of %s is the part of the whole, bit for bit', (view) => {
    const prepared = structuredClone(prepareView(overview, viewOf(view), { pixelM: 2, colours }))
    const whole = applyView(prepared, level, { column: 0, row: 0, ...step })
    for (const [x, y, wide, high] of [
      [0, 0, 40, 50],
      [41, 37, 64, 33],
      [149, 109, 1, 1],
    ] as const) {
      const tile = applyView(prepared, cut(level, x, y, wide, high), { column: x, row: y, ...step })
      expect(tile.channels).toBe(whole.channels)
      const { channels } = tile
      for (let row = 0; row < high; row++) {
        const from = channels * ((y + row) * 150 + x)
        const got = tile.pixels.subarray(channels * row * wide, channels * (row + 1) * wide)
        expect(got).toEqual(whole.pixels.subarray(from, from + channels * wide))
      }
    }
  })

  test.each(imageViewsFor(4, colours))('what stands where there is nothing never shows in %s', (view) => {
    const scrawled = (image: Bands): Bands => {
      const random = seededRandom(9)
      if (image.alpha === null) return image
      const bands = image.bands.map((values) => {
        const copy = values.slice()
        for (let i = 0; i < copy.length; i++) if (image.alpha![i] === 0) copy[i] = uniform(random, 0, 255)
        return copy
      })
      return { ...image, bands }
    }
    const paint = (of: Bands, on: Bands): PaintedTile =>
      applyView(prepareView(of, viewOf(view), { pixelM: 2, colours }), on, { column: 0, row: 0, ...step })
    const tile = paint(overview, level)
    expect(paint(scrawled(overview), scrawled(level))).toEqual(tile)
    let empty = 0
    for (let i = 0; i < 150 * 110; i++) {
      const [x, y] = [i % 150, Math.floor(i / 150)]
      if (Math.hypot(x - 50, y - 55) >= 6) {
        expect(tile.pixels[tile.channels * (i + 1) - 1]).toBe(level.alpha?.[i] ?? 255)
        continue
      }
      empty += 1
      expect([...tile.pixels.subarray(tile.channels * i, tile.channels * (i + 1))]).toEqual(
        new Array(tile.channels).fill(0),
      )
    }
    expect(empty).toBeGreaterThan(100)
  })
})

test('bytes are shown as they are; wider numbers from black to white in their order', () => {
  const bytes = picture('bytes', 30, 20, 3, 5)
  const place = { column: 0, row: 0, stepX: 1, stepY: 1 }
  const plain = applyView(prepareView(bytes, { view: 'as-is' }, { pixelM: 1 }), bytes, place)
  for (let i = 0; i < 600; i++)
    if (bytes.alpha![i] !== 0)
      for (let k = 0; k < 3; k++) expect(plain.pixels[4 * i + k]).toBe(bytes.bands[k]![i])
  const floats = picture('floats', 30, 20, 1, 5)
  const grey = applyView(prepareView(floats, { view: 'as-is' }, { pixelM: 1 }), floats, place)
  const pairs = Array.from(floats.bands[0]!, (value, i) => [value, grey.pixels[2 * i]!] as const)
  const shown = pairs.filter(([value]) => Number.isFinite(value)).sort((a, b) => a[0] - b[0])
  expect(shown.every(([, level], i) => i === 0 || level >= shown[i - 1]![1])).toBe(true)
  expect([shown[0]![1], shown.at(-1)![1]]).toEqual([0, 255])
})

test('the decorrelation stretch does not see what is added to a band, nor what all are multiplied by', () => {
  const image = picture('floats', 50, 40, 3, 7)
  const place = { column: 0, row: 0, stepX: 1, stepY: 1 }
  const paint = (of: Bands): Uint8ClampedArray =>
    applyView(prepareView(of, { view: 'decorrelated' }, { pixelM: 1 }), of, place).pixels
  const before = paint(image)
  fc.assert(
    fc.property(
      fc.tuple(...[0, 1, 2].map(() => fc.double({ min: -0.5, max: 0.5, noNaN: true }))),
      fc.double({ min: 0.25, max: 4, noNaN: true }),
      (added, times) => {
        const bands = image.bands.map((values, k) =>
          Float32Array.from(values, (value) => times * (value + added[k]!)),
        )
        const after = paint({ ...image, bands })
        // 32-bit floats round what is added.
        for (let i = 0; i < before.length; i++)
          expect(Math.abs(after[i]! - before[i]!)).toBeLessThanOrEqual(1)
      },
    ),
    { numRuns: 20 },
  )
})

test('bands come out of the decorrelation stretch with one spread and no correlation', () => {
  const image = picture('bytes', 80, 60, 3, 8)
  const painted = applyView(prepareView(image, { view: 'decorrelated' }, { pixelM: 1 }), image, {
    column: 0,
    row: 0,
    stepX: 1,
    stepY: 1,
  })
  const kept = [...image.alpha!.keys()].filter((i) => image.alpha![i] !== 0)
  const mean = (of: (i: number) => number): number => kept.reduce((sum, i) => sum + of(i), 0) / kept.length
  const at = (k: number, i: number): number => painted.pixels[4 * i + k]!
  for (let a = 0; a < 3; a++)
    for (let b = a; b < 3; b++) {
      const [meanA, meanB] = [mean((i) => at(a, i)), mean((i) => at(b, i))]
      const covariance = mean((i) => (at(a, i) - meanA) * (at(b, i) - meanB))
      // Rounding to bytes and cutting off at black and white take a little.
      expect(Math.abs(covariance / 2500 - (a === b ? 1 : 0))).toBeLessThan(0.03)
    }
})

describe('indices', () => {
  test('worked by hand', () => {
    expect(greenRedIndex(120, 80)).toBeCloseTo(0.2, 15)
    expect(greenRedIndex(60, 90)).toBeCloseTo(-0.2, 15)
    expect(visibleAtmosphericIndex(120, 80, 40)).toBe(0.25)
    expect(visibleAtmosphericIndex(50, 70, 100)).toBe(-1)
    expect(normalisedDifferenceIndex(150, 50)).toBe(0.5)
    expect(normalisedDifferenceIndex(0.08, 0.12)).toBeCloseTo(-0.2, 15)
    for (const none of [
      greenRedIndex(0, 0),
      visibleAtmosphericIndex(50, 50, 100),
      visibleAtmosphericIndex(1, 1, 9),
    ])
      expect(none).toBeNaN()
  })

  test('keep to their bounds and do not see how bright the light is', () => {
    const level = fc.double({ min: 0, max: 65_535, noNaN: true })
    fc.assert(
      fc.property(level, level, fc.double({ min: 0.01, max: 100, noNaN: true }), (a, b, light) => {
        fc.pre(a + b > 1e-200)
        for (const index of [greenRedIndex, normalisedDifferenceIndex]) {
          const value = index(a, b)
          expect(Math.abs(value)).toBeLessThanOrEqual(1)
          expect(index(b, a)).toBe(-value)
          expect(index(light * a, light * b)).toBeCloseTo(value, 12)
        }
      }),
    )
  })
})

test('contrast allowed to grow once leaves brightness as it is; more never turns its order round', () => {
  const random = seededRandom(3)
  const [columns, rows] = [96, 64]
  const values = Float64Array.from({ length: columns * rows }, (_, i) =>
    Math.max(0, Math.min(255, 90 + (i % columns) + 12 * normal(random))),
  )
  const alpha = new Uint8Array(values.length).fill(255)
  const place = { column: 0, row: 0, stepX: 1, stepY: 1 }
  const once = equalised(
    values,
    { columns, rows },
    equalisation(values, alpha, { columns, rows }, 32, 1),
    place,
  )
  for (let i = 0; i < values.length; i++) expect(Math.abs(once[i]! - values[i]!)).toBeLessThan(1e-4)
  const three = equalisation(values, alpha, { columns, rows }, 32, 3)
  for (let at = 0; at < three.mappings.length; at++) {
    if (at % 256 === 0) continue
    const rise = three.mappings[at]! - three.mappings[at - 1]!
    expect(rise).toBeGreaterThanOrEqual(0)
    expect(rise).toBeLessThan(3 + 1e-3)
  }
})

test('local contrast does not see a slow change of light, nor its strength', () => {
  const [columns, rows] = [120, 90]
  const place = { column: 0, row: 0, stepX: 1, stepY: 1 }
  const paint = (light: (x: number) => number, gain: number): Uint8ClampedArray => {
    const random = seededRandom(4)
    const values = Float32Array.from(
      { length: columns * rows },
      (_, i) => gain * (light(i % columns) + ((i % columns) % 20 < 3 ? 6 : 0) + 2 * normal(random)),
    )
    const image: Bands = { columns, rows, bands: [values], alpha: null, noData: null }
    return applyView(prepareView(image, { view: 'local-contrast', radiusM: 10 }, { pixelM: 1 }), image, place)
      .pixels
  }
  const even = paint(() => 100, 1)
  const strong = paint(() => 100, 30)
  const sloping = paint((x) => 100 + 0.3 * x, 1)
  const off = (a: Uint8ClampedArray): number => {
    let sum = 0
    for (let i = 0; i < a.length; i += 2) sum += Math.abs(a[i]! - even[i]!)
    return sum / (a.length / 2)
  }
  expect(off(strong)).toBeLessThan(0.1)
  // One local spread is 42 grey levels; the slope adds 0.3 x 21 / root 12 = 1.8 to a spread of about 3.
  expect(off(sloping)).toBeLessThan(8)
})

test('a picture all of one value, and one of nothing, can be looked at in every way', () => {
  const place = { column: 0, row: 0, stepX: 1, stepY: 1 }
  for (const alpha of [null, new Uint8Array(400)]) {
    const bands = [90, 90, 90, 90].map((value) => new Uint8Array(400).fill(value))
    const image: Bands = { columns: 20, rows: 20, bands, alpha, noData: null }
    for (const view of imageViewsFor(4, colours)) {
      const { pixels, channels } = applyView(
        prepareView(image, { view }, { pixelM: 1, colours }),
        image,
        place,
      )
      expect(pixels[channels - 1]).toBe(alpha === null ? 255 : 0)
      expect(new Set(pixels.filter((_, i) => i % channels === 0)).size).toBe(1)
    }
  }
})

test('interleaved pixels are taken apart, alpha aside', () => {
  const image = bandsFromInterleaved(
    Uint8Array.of(1, 2, 3, 0, 4, 5, 6, 255),
    { columns: 2, rows: 1, channels: 4 },
    3,
  )
  expect(image.bands.map((band) => [...band])).toEqual([
    [1, 4],
    [2, 5],
    [3, 6],
  ])
  expect([...image.alpha!]).toEqual([0, 255])
  const wide = bandsFromInterleaved(
    Uint16Array.of(700, 9, 800, 0),
    { columns: 2, rows: 1, channels: 2 },
    1,
    5,
  )
  expect([[...wide.bands[0]!], [...wide.alpha!], wide.noData]).toEqual([[700, 800], [255, 0], 5])
})

test('a view that the bands do not allow, and numbers that make no sense, are wrong calls', () => {
  const image = picture('bytes', 20, 20, 3, 1)
  const grey = picture('bytes', 20, 20, 1, 1)
  const prepare = (of: Bands, view: ImageView, pixelM = 1) => prepareView(of, view, { pixelM })
  expect(() => prepare(image, { view: 'ndvi' })).toThrow(RangeError)
  expect(() => prepare(grey, { view: 'green-red' })).toThrow(RangeError)
  expect(() => prepare(grey, { view: 'decorrelated' })).toThrow(RangeError)
  expect(() => prepare(image, { view: 'band', number: 4 })).toThrow(RangeError)
  expect(() => prepare(image, { view: 'component', number: 0 })).toThrow(RangeError)
  expect(() => prepare(image, { view: 'local-contrast', radiusM: 0 })).toThrow(RangeError)
  expect(() => prepare(image, { view: 'band', cutPercent: 50 })).toThrow(RangeError)
  expect(() => prepare(image, { view: 'as-is' }, 0)).toThrow(RangeError)
  expect(() => prepare({ ...image, rows: 21 }, { view: 'as-is' })).toThrow(RangeError)
  const prepared = prepare(image, { view: 'as-is' })
  expect(() => applyView(prepared, grey, { column: 0, row: 0, stepX: 1, stepY: 1 })).toThrow(RangeError)
  expect(imageViewsFor(1)).toEqual(['as-is', 'equalised', 'local-contrast'])
  expect(imageViewsFor(3)).not.toContain('ndvi')
})
