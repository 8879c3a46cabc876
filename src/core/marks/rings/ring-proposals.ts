import type { Flattened } from '../ground/flatten.ts'
import type { LevelWindow } from '../ground/levels.ts'
import { levelOff, ridges } from '../ground/ridges.ts'
import { scratch } from '../ground/scratch.ts'
import { type RingGround, ridgeCeiling } from './ring-ground.ts'
import { kernelMargin, lineScales } from './ring-kernels.ts'
import { eachMapPair, type Part, ringSpectra } from './ring-maps.ts'

/** A place and radius worth a closer look, pixels of its level's window. */
export interface Proposal {
  readonly x: number
  readonly y: number
  readonly radius: number
  /** Of the map there, in spreads of the ground. */
  readonly height: number
}

/** Least height of a proposal, in spreads of the ground. */
const leastHeight = 3.5

/**
 * Places where a ring may be: peaks, over a neighbourhood of five pixels, of the best map over radii. A map is the sum of two ways of seeing a ring: the
 * ridges on its circle that run along it, and the ring matched to the grain of the ground. Only what lies within `asked` is found, a window of `flat`.
 * Cost: a transform of the padded window for two radii.
 */
export function ringProposals(flat: Flattened, ground: RingGround, asked: LevelWindow): Proposal[] {
  const { kernels, middles } = ground
  const lines = ridges(flat.values, flat, lineScales)
  levelOff(lines, ground.ridgeUnit, ridgeCeiling)
  const reach = Math.ceil(Math.max(...kernels.map(({ radius }) => radius))) + kernelMargin
  const part = grown(asked, reach + peakHalf, flat)
  const { columns, rows } = part
  const best = scratch(3, columns * rows).fill(Number.NEGATIVE_INFINITY)
  const which = new Uint8Array(columns * rows)
  const pairs = Array.from(
    { length: Math.ceil(kernels.length / 2) },
    (_, i) => [kernels[2 * i]!, kernels[2 * i + 1] ?? kernels[2 * i]!] as const,
  )
  eachMapPair(
    ringSpectra(flat.values, lines, part, reach),
    pairs,
    { rows },
    (pair, first, second, stride) => {
      // Of an odd number the last is paired with itself, which changes nothing.
      const other = Math.min(2 * pair + 1, kernels.length - 1)
      const indexes = [2 * pair, other] as const
      takeBetter({ best, which, columns, rows }, first, second, stride, indexes, middles)
    },
  )
  const found: Proposal[] = []
  peaks(best, columns, rows, leastHeight, (i) => {
    const radius = kernels[which[i]!]!.radius
    const [column, row] = [i % columns, Math.floor(i / columns)]
    found.push({ x: part.left + column + 0.5, y: part.top + row + 0.5, radius, height: best[i]! })
  })
  return found
}

/** Peaks stand over this many pixels each way. */
const peakHalf = 2

/** A window of an image with so many pixels more each way, as far as there are such. */
function grown(window: LevelWindow, by: number, { columns, rows }: Flattened): Part {
  const left = Math.max(0, window.left - by)
  const top = Math.max(0, window.top - by)
  return {
    left,
    top,
    columns: Math.min(columns, window.left + window.columns + by) - left,
    rows: Math.min(rows, window.top + window.rows + by) - top,
    stride: columns,
  }
}

interface BestMap {
  readonly best: Float32Array
  readonly which: Uint8Array
  readonly columns: number
  readonly rows: number
}

/** Keeps the higher of what is there and two maps, and whose it is; of equals the first. */
function takeBetter(
  best: BestMap,
  first: Float32Array,
  second: Float32Array,
  stride: number,
  [one, two]: readonly [number, number],
  middles: Float64Array,
): void {
  const below = { one: middles[one]!, two: middles[two]! }
  for (let row = 0; row < best.rows; row++) betterRow(best, first, second, row, stride, one, two, below)
}

function betterRow(
  { best, which, columns }: BestMap,
  first: Float32Array,
  second: Float32Array,
  row: number,
  stride: number,
  one: number,
  two: number,
  below: { readonly one: number; readonly two: number },
): void {
  const belowOne = below.one
  const belowTwo = below.two
  for (let i = row * columns, j = row * stride, end = i + columns; i < end; i++, j++) {
    const a = first[j]! - belowOne
    const b = second[j]! - belowTwo
    const held = best[i]!
    if (a <= held && b <= held) continue
    const later = b > a
    best[i] = later ? b : a
    which[i] = later ? two : one
  }
}

function peaks(
  score: Float32Array,
  columns: number,
  rows: number,
  least: number,
  visit: (i: number) => void,
): void {
  for (let row = peakHalf; row < rows - peakHalf; row++) {
    const end = (row + 1) * columns - peakHalf
    for (let i = nextOver(score, row * columns + peakHalf, end, least); i < end; ) {
      if (isPeak(score, columns, i)) visit(i)
      i = nextOver(score, i + 1, end, least)
    }
  }
}

function nextOver(score: Float32Array, from: number, end: number, least: number): number {
  let i = from
  while (i < end && score[i]! < least) i++
  return i
}

/** Whether nothing about it is higher; of equals the first is taken. */
function isPeak(score: Float32Array, columns: number, i: number): boolean {
  const value = score[i]!
  for (let dy = -peakHalf; dy <= peakHalf; dy++) {
    for (let j = i + dy * columns - peakHalf, last = j + 2 * peakHalf; j <= last; j++) {
      if (score[j]! > value || (score[j]! === value && j < i)) return false
    }
  }
  return true
}
