import { type Random, uniform } from '#core/random'
import type { Raster } from '../candidate.ts'
import { type Flattened, flatten, flattenReach } from '../ground/flatten.ts'
import { complexPlane, transform } from '../ground/fourier.ts'
import type { LevelSource, LevelWindow } from '../ground/levels.ts'
import { valueOfRank } from '../ground/rank.ts'
import { levelOff, type Ridges, ridges } from '../ground/ridges.ts'
import { leastSpreadOf, type SampleSize, sampleWindows } from '../ground/sample-windows.ts'
import {
  kernelMargin,
  lineScales,
  type RingKernel,
  ringKernels,
  tableStep,
  tableSteps,
} from './ring-kernels.ts'
import { eachMapPair, ringSpectra } from './ring-maps.ts'
import type { RingLevel } from './ring-plan.ts'
import { sectorCount, sectorProfiles, sectorRidges, widths } from './ring-sectors.ts'

/** What the ground of an image is like at one level: everything that a part of the image must take from the whole. */
export interface RingGround {
  readonly leastSpread: number
  readonly ridgeUnit: number
  /** Of each radius, the kernels of votes and matched ring together, scaled to this ground. */
  readonly kernels: readonly RingKernel[]
  /** What a map of each radius has in the middle on this ground; its spread is 1. */
  readonly middles: Float64Array
  /** Standard deviation of an arc's ridge, in units of the local spread, by radius and width (`radii` times `widths`). */
  readonly arcNoise: Float64Array
}

/** Blocks that the ground is measured on: with the reach of the widest kernel, a power of two across. */
export const groundBlocks: SampleSize = { wide: 228, tall: 228, most: 5 }
const placesARadius = 60
/** Strengths of ridges level off at this many times the usual strength. */
export const ridgeCeiling = 4

/**
 * Measures the ground on a few square blocks spread over the image. The blocks depend on the image's size and data alone, so that it does not matter
 * how the image is parted later.
 * Gives   null where there is no data, or no difference between any two pixels.
 */
export function measureGround(
  source: LevelSource,
  { level, look, radii }: RingLevel,
  tone: 1 | -1,
  random: Random,
): RingGround | null {
  const seen = sampleBlocks(source, level)
  const leastSpread = leastSpreadOf(seen.map(({ raster }) => raster))
  if (leastSpread === null) return null
  const flats = seen.map(({ raster }) => flatten(signed(raster, tone), leastSpread))
  const lines = flats.map((flat) => ridges(flat.values, flat, lineScales))
  const ridgeUnit = Math.max(1e-3, meanStrength(lines))
  for (const each of lines) levelOff(each, ridgeUnit, ridgeCeiling)
  const scaled = scaledKernels(ringKernels(radii, radialPower(flats)), flats, lines)
  const scale = 2 ** (level - look)
  const looked = seen.map(({ window }, b) => ({
    near: signed(source.read(look, scaledWindow(window, scale)), tone),
    flat: flats[b]!,
  }))
  return { leastSpread, ridgeUnit, ...scaled, arcNoise: measureArcNoise(looked, radii, scale, random) }
}

/** Spread of an arc's ridge over random places of some blocks, for each radius and width; `near` is the block at the scale looked at, `scale` times as fine. */
function measureArcNoise(
  looked: readonly { readonly near: Raster; readonly flat: Flattened }[],
  radii: readonly number[],
  scale: number,
  random: Random,
): Float64Array {
  const arcNoise = new Float64Array(radii.length * widths.length)
  const each = Math.floor(placesARadius / looked.length)
  const ridgesSeen = widths.map(() => new Float64Array(each * looked.length * sectorCount))
  const arcs = new Float64Array(sectorCount)
  radii.forEach((radius, i) => {
    const counts = widths.map(() => 0)
    for (const { near, flat } of looked) {
      for (let n = 0; n < each; n++) {
        const [x, y] = [uniform(random, 0, flat.columns), uniform(random, 0, flat.rows)]
        const spread = flat.spread[Math.floor(y) * flat.columns + Math.floor(x)]!
        const profiles = sectorProfiles(near, x * scale, y * scale, radius * scale)
        widths.forEach((width, w) => {
          sectorRidges(profiles, { dx: 0, dy: 0, radius: radius * scale }, width, 1 / spread, arcs)
          for (let k = 0; k < sectorCount; k++)
            if (!Number.isNaN(arcs[k]!)) ridgesSeen[w]![counts[w]!++] = arcs[k]!
        })
      }
    }
    counts.forEach((count, w) => {
      arcNoise[i * widths.length + w] = Math.max(0.02, robustSpread(ridgesSeen[w]!.subarray(0, count)))
    })
  })
  return arcNoise
}

const nothing = new Float32Array(tableSteps)

/**
 * Joins votes and matched ring of each radius into one kernel, each weighed by the inverse of its spread on this ground, so that the map of the sum has a
 * spread of 1.
 */
function scaledKernels(
  kernels: readonly RingKernel[],
  flats: readonly Flattened[],
  lines: readonly Ridges[],
): Pick<RingGround, 'kernels' | 'middles'> {
  const most = flats.reduce(
    (sum, { rows, columns }) => sum + Math.ceil(rows / sampled) * Math.ceil(columns / sampled),
    0,
  )
  const samples = kernels.map(() => ({
    votes: new Float64Array(most),
    matched: new Float64Array(most),
    count: 0,
  }))
  const reach = Math.ceil(Math.max(...kernels.map(({ radius }) => radius))) + kernelMargin
  flats.forEach((flat, b) => {
    const pairs = kernels.map(
      ({ even, aligned, matched }) =>
        [
          { even, aligned, matched: nothing },
          { even: nothing, aligned: nothing, matched },
        ] as const,
    )
    const whole = { left: 0, top: 0, columns: flat.columns, rows: flat.rows, stride: flat.columns }
    eachMapPair(
      ringSpectra(flat.values, lines[b]!, whole, reach),
      pairs,
      { rows: flat.rows, every: sampled },
      (i, votes, matched, stride) => {
        takeSamples(flat, votes, matched, stride, samples[i]!)
      },
    )
  })
  const middles = new Float64Array(kernels.length)
  const joined = kernels.map(({ radius, even, aligned, matched }, i): RingKernel => {
    const votes = samples[i]!.votes.subarray(0, samples[i]!.count)
    const ring = samples[i]!.matched.subarray(0, samples[i]!.count)
    const [v, m] = [upperScale(votes.slice()), upperScale(ring.slice())]
    const sum = upperScale(votes.map((vote, n) => vote / v.spread + ring[n]! / m.spread))
    middles[i] = sum.middle / sum.spread
    const [forVotes, forMatched] = [1 / (v.spread * sum.spread), 1 / (m.spread * sum.spread)]
    return {
      radius,
      even: even.map((value) => value * forVotes),
      aligned: aligned.map((value) => value * forVotes),
      matched: matched.map((value) => value * forMatched),
    }
  })
  return { kernels: joined, middles }
}

interface MapSamples {
  readonly votes: Float64Array
  readonly matched: Float64Array
  count: number
}

/** Maps are judged by every fourth pixel both ways. */
const sampled = 4

/** The pixels of two maps made of every fourth pixel, where there is data. */
function takeSamples(
  { columns, rows, values }: Flattened,
  votes: Float32Array,
  matched: Float32Array,
  stride: number,
  out: MapSamples,
): void {
  let count = out.count
  for (let row = 0; row < rows; row += sampled) {
    for (let column = 0; column < columns; column += sampled) {
      if (values[row * columns + column]! === 0) continue
      const i = (row / sampled) * stride + column / sampled
      out.votes[count] = votes[i]!
      out.matched[count] = matched[i]!
      count++
    }
  }
  out.count = count
}

export function signed(raster: Raster, tone: 1 | -1): Raster {
  if (tone === 1) return raster
  const values = new Float32Array(raster.values.length)
  for (let i = 0; i < values.length; i++) values[i] = -raster.values[i]!
  return { ...raster, values }
}

export function scaledWindow({ left, top, columns, rows }: LevelWindow, scale: number): LevelWindow {
  return { left: left * scale, top: top * scale, columns: columns * scale, rows: rows * scale }
}

interface Block {
  readonly window: LevelWindow
  readonly raster: Raster
}

/** Blocks at least half of which has data, spread over the image. */
function sampleBlocks(source: LevelSource, level: number): Block[] {
  return sampleWindows(source, level, groundBlocks).map((window) => ({
    window,
    raster: source.read(level, window),
  }))
}

function meanStrength(lines: readonly Ridges[]): number {
  let sum = 0
  let count = 0
  for (const { strength } of lines) {
    for (let i = 0; i < strength.length; i++) {
      const value = strength[i]!
      if (value === 0) continue
      sum += value
      count++
    }
  }
  return count > 0 ? sum / count : 0
}

const powerSide = 256

/** Radial power spectrum over the kernels' table: the median over directions, so that a hedge or a set of furrows does not count for all. */
function radialPower(flats: readonly Flattened[]): Float64Array {
  const bins = 48
  const found: number[][] = Array.from({ length: bins }, () => [])
  for (const { columns, rows, values } of flats) {
    const plane = complexPlane(powerSide, powerSide)
    const [wide, tall] = [Math.min(columns, powerSide), Math.min(rows, powerSide)]
    const [left, top] = [(columns - wide) >> 1, (rows - tall) >> 1]
    for (let row = 0; row < tall; row++) {
      const down = Math.sin((Math.PI * (row + 0.5)) / tall)
      for (let column = 0; column < wide; column++) {
        const across = Math.sin((Math.PI * (column + 0.5)) / wide)
        plane.re[row * powerSide + column] =
          values[(top + row) * columns + left + column]! * (down * across) ** 2
      }
    }
    transform(plane, -1)
    const share = 1 / (wide * tall)
    for (let v = 0; v < powerSide; v++) {
      for (let u = 0; u <= powerSide / 2; u++) {
        const k = ((2 * Math.PI) / powerSide) * Math.hypot(u, v <= powerSide / 2 ? v : powerSide - v)
        if (k === 0 || k > Math.PI) continue
        const i = v * powerSide + u
        found[Math.min(bins - 1, Math.floor((k / Math.PI) * bins))]!.push(
          share * (plane.re[i]! ** 2 + plane.im[i]! ** 2),
        )
      }
    }
  }
  const medians = found.map((values) => values.sort((a, b) => a - b)[values.length >> 1] ?? 0)
  const floor = Math.max(...medians) * 0.01 || 1
  return Float64Array.from({ length: tableSteps }, (_, i) => {
    const at = Math.min(bins - 1, Math.max(0, ((i * tableStep) / Math.PI) * bins - 0.5))
    const low = Math.min(bins - 2, Math.floor(at))
    return floor + medians[low]! + (at - low) * (medians[low + 1]! - medians[low]!)
  })
}

/** Middle, and half the way from it to where one value in 44 lies above (two standard deviations of a normal distribution). Changes the order of `all`. */
function upperScale(all: Float64Array): { middle: number; spread: number } {
  if (all.length === 0) return { middle: 0, spread: 1e-9 }
  const middle = valueOfRank(all, all.length >> 1)
  const high = valueOfRank(all, Math.floor(0.9772 * all.length))
  let top = high
  for (let i = 0; i < all.length; i++) if (all[i]! > top) top = all[i]!
  // On ground without grain the spread would be nothing, and the least rounding a peak.
  return { middle, spread: Math.max(1e-9, (high - middle) / 2, (top - middle) / 60) }
}

/** Half of what lies between one standard deviation below and above of a normal distribution. Changes the order of `all`. */
function robustSpread(all: Float64Array): number {
  if (all.length === 0) return 0
  const at = (share: number): number => valueOfRank(all, Math.floor(share * (all.length - 1)))
  return (at(0.8413) - at(0.1587)) / 2
}

/** How far, in pixels of the level, a candidate depends on the image. */
export const flatReach = flattenReach
