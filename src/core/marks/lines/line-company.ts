import type { LineLookAlike } from './line-candidate.ts'
import { type LineSample, SampleGrid, sampleStep, samplesOf } from './line-samples.ts'
import type { MeasuredLine } from './measured-line.ts'

/** What runs beside a line. */
export interface LineCompany {
  readonly pairSpacing: number | null
  readonly mayBe: readonly LineLookAlike[]
}

/** Lines farther off than this many pixels are no company. */
const farthest = 150
/** A pair is at most this far apart, pixels or widths of the line. */
const widestPair = { pixels: 40, widths: 12 }
const parallel = Math.cos((4 * Math.PI) / 180)
/** Share of the shorter line along which a pair runs. */
const besideShare = 0.6
/** Tramlines are wheels of 1.5 to 2.5 m gauge, in bouts of 10 m and more (common practice). */
const gaugeM = [1.5, 2.5] as const
const leastBoutM = 10

/** Of each line, in the same order, the line that it makes a pair with, and whether they are many at even distances. */
export function companyOf(lines: readonly MeasuredLine[], pixelM: number | null): LineCompany[] {
  const grid = new SampleGrid<MeasuredLine>(farthest)
  const samples = lines.map((line) => samplesOf(line))
  for (const own of samples) for (const sample of own) grid.add(sample)
  return lines.map((line, i) => {
    const offsets = offsetsOf(samples[i]!, grid)
    const near = offsets.filter(({ offset }) => Math.abs(offset) >= 1.5 * line.width)
    const widest = Math.max(widestPair.pixels, widestPair.widths * line.width)
    const pair = near.reduce(
      (least, { offset, share }) =>
        share >= besideShare && Math.abs(offset) <= widest ? Math.min(least, Math.abs(offset)) : least,
      Infinity,
    )
    const pairSpacing = pair === Infinity ? null : pair
    const mayBe = setOf(
      near.map(({ offset }) => offset),
      pairSpacing,
      pixelM,
    )
    return { pairSpacing, mayBe }
  })
}

/** Lines that run along one, how far to its right on the mean, and along what share of the shorter of the two; only those at near-constant distance. */
function offsetsOf(
  own: readonly LineSample<MeasuredLine>[],
  grid: SampleGrid<MeasuredLine>,
): { offset: number; share: number }[] {
  const found = new Map<MeasuredLine, number[]>()
  own.forEach((sample, n) => {
    if (n % 4 !== 0) return
    grid.near(sample, (other) => {
      const [dx, dy] = [other.x - sample.x, other.y - sample.y]
      if (Math.abs(dx * sample.cos + dy * sample.sin) > sampleStep / 2) return
      if (Math.abs(other.cos * sample.cos + other.sin * sample.sin) < parallel) return
      if (other.line === sample.line || other.line.tone !== sample.line.tone) return
      const list = found.get(other.line)
      const offset = dy * sample.cos - dx * sample.sin
      if (list) list.push(offset)
      else found.set(other.line, [offset])
    })
  })
  return [...found].flatMap(([line, list]) => {
    const offset = list.reduce((sum, v) => sum + v, 0) / list.length
    const spread = Math.sqrt(list.reduce((sum, v) => sum + (v - offset) ** 2, 0) / list.length)
    if (spread > Math.max(1.5, 0.12 * Math.abs(offset))) return []
    const shorter = Math.min(own.length / 4, line.length / sampleStep / 4)
    return [{ offset, share: list.length / Math.max(1, shorter) }]
  })
}

function setOf(offsets: readonly number[], pair: number | null, pixelM: number | null): LineLookAlike[] {
  const every = evenDistance(offsets)
  if (every !== null)
    return pixelM !== null && every * pixelM >= leastBoutM ? ['tramlines'] : ['plough ridges']
  if (pair === null || (pixelM !== null && (pair * pixelM < gaugeM[0] || pair * pixelM > gaugeM[1])))
    return []
  return pairsAlike(offsets, pair) >= 2 ? ['tramlines'] : []
}

/** How many other pairs of the same gauge lie among the offsets. */
function pairsAlike(offsets: readonly number[], gauge: number): number {
  const sorted = offsets.filter((offset) => Math.abs(offset) > 2.5 * gauge).toSorted((a, b) => a - b)
  let count = 0
  for (let i = 1; i < sorted.length; i++)
    if (Math.abs(sorted[i]! - sorted[i - 1]! - gauge) < 0.2 * gauge + 1) count++
  return count
}

/** The distance at which four lines or more, and most of all beside one, are repeated; null where they are not. */
function evenDistance(offsets: readonly number[]): number | null {
  const every = Math.min(...offsets.map(Math.abs))
  const near = offsets.filter((offset) => Math.abs(offset) < 6.5 * every)
  const even = near.filter((offset) => {
    const times = offset / every
    return Math.abs(times - Math.round(times)) < 0.15
  })
  return even.length >= 4 && even.length >= 0.7 * near.length ? every : null
}
