import type { Raster } from '../candidate.ts'
import { scratch } from './scratch.ts'

/** A raster without its broad light and dark, in units of the grain about each place. */
export interface Flattened {
  readonly columns: number
  readonly rows: number
  /** 0 where there is no data. */
  readonly values: Float32Array
  /** Spread of the grain about each pixel, in the raster's own unit; above 0. */
  readonly spread: Float32Array
}

/** Half widths of the two running means, pixels: twice for what is broad, once for the spread. */
const broadHalf = 16
const spreadHalf = 40

/** How far, in pixels, a flattened value looks. */
export const flattenReach = 2 * broadHalf + spreadHalf + 2

/** Values beyond this many spreads are cut off: one bright roof must not outweigh a field. */
const cut = 5

/** Mean absolute deviation of a normal distribution is 0.7979 of its standard deviation. */
const absoluteToStandard = 1.2533

/**
 * Takes the broad light and dark out and divides by the local spread, so that neither brightness nor contrast of the image matters.
 *
 * Method  less the mean of a square of 33 pixels taken twice; divided by the mean absolute deviation over a square of 81. Means are
 *         over pixels with data only. The spread counts as no less than `leastSpread`.
 */
export function flatten(raster: Raster, leastSpread: number): Flattened {
  const { columns, rows } = raster
  const { filled, known } = partsOf(raster)
  const broad = twiceMean(filled, known, raster, broadHalf)
  const flat = new Float32Array(filled.length)
  const deviation = scratch(2, filled.length)
  for (let i = 0; i < flat.length; i++) {
    const off = known && known[i] === 0 ? 0 : filled[i]! - broad[i]!
    flat[i] = off
    deviation[i] = Math.abs(off)
  }
  const spread = mean(deviation, known, raster, spreadHalf)
  for (let i = 0; i < flat.length; i++) {
    const local = Math.max(leastSpread, spread[i]! * absoluteToStandard)
    const value = flat[i]! / local
    spread[i] = local
    flat[i] = Math.max(-cut, Math.min(cut, value))
  }
  return { columns, rows, values: flat, spread }
}

/** The broad light and dark that `flatten` takes out at a level `scale` times as coarse as the raster. */
function broadMean(raster: Raster, scale: number): Float32Array {
  const { filled, known } = partsOf(raster)
  return twiceMean(filled, known, raster, broadHalf * scale)
}

/** A raster less its own running mean, as wide as the flattening of a level `scale` times as coarse takes it. */
export function meansTakenOut(raster: Raster, scale: number): Raster {
  const { columns, rows, values } = raster
  const broad = broadMean(raster, scale)
  return { columns, rows, values: values.map((value, i) => value - broad[i]!) }
}

/** Values with 0 for what is missing, and 1 for what is known (null where all is). */
function partsOf({ values }: Raster): { filled: Float32Array; known: Float32Array | null } {
  let holes = false
  for (let i = 0; i < values.length && !holes; i++) holes = Number.isNaN(values[i]!)
  if (!holes) return { filled: values, known: null }
  return {
    filled: values.map((value) => (Number.isNaN(value) ? 0 : value)),
    known: values.map((value) => (Number.isNaN(value) ? 0 : 1)),
  }
}

function twiceMean(
  filled: Float32Array,
  known: Float32Array | null,
  frame: Frame,
  half: number,
): Float32Array {
  const once = mean(filled, known, frame, half)
  const reached = known && sums(known, frame, half).map((weight) => (weight > 0 ? 1 : 0))
  return mean(once, reached, frame, half)
}

interface Frame {
  readonly columns: number
  readonly rows: number
}

/** Mean over a square, of known pixels only (all where `known` is null; the square is clipped at the edge). */
function mean(values: Float32Array, known: Float32Array | null, frame: Frame, half: number): Float32Array {
  const weighted = known ? values.map((value, i) => value * known[i]!) : values
  const out = sums(weighted, frame, half)
  const { columns, rows } = frame
  if (known) {
    const weights = sums(known, frame, half)
    for (let i = 0; i < out.length; i++) out[i] = weights[i]! > 0 ? out[i]! / weights[i]! : 0
    return out
  }
  const share = Float64Array.from(
    { length: columns },
    (_, column) => 1 / (Math.min(columns - 1, column + half) - Math.max(0, column - half) + 1),
  )
  for (let row = 0; row < rows; row++) {
    const tall = 1 / (Math.min(rows - 1, row + half) - Math.max(0, row - half) + 1)
    for (let column = 0, i = row * columns; column < columns; column++, i++) out[i]! *= tall * share[column]!
  }
  return out
}

/** Sums over a square, clipped at the edges: running sums across, then down. */
function sums(values: Float32Array, { columns, rows }: Frame, half: number): Float32Array {
  const across = scratch(0, values.length)
  for (let row = 0; row < rows; row++) {
    const at = row * columns
    let sum = 0
    for (let column = 0; column < Math.min(half, columns); column++) sum += values[at + column]!
    const [first, last] = [Math.min(half, columns), Math.max(0, columns - half)]
    let column = 0
    for (; column < first; column++) {
      if (column < last) sum += values[at + column + half]!
      across[at + column] = sum
    }
    for (; column < last; column++) {
      sum += values[at + column + half]!
      across[at + column] = sum
      sum -= values[at + column - half]!
    }
    for (; column < columns; column++) {
      across[at + column] = sum
      sum -= values[at + column - half]!
    }
  }
  const out = new Float32Array(values.length)
  const running = new Float64Array(columns)
  for (let row = 0; row < Math.min(half, rows); row++)
    for (let column = 0; column < columns; column++) running[column]! += across[row * columns + column]!
  for (let row = 0; row < rows; row++) {
    const come = (row + half) * columns
    const gone = (row - half) * columns
    const at = row * columns
    const [comes, goes] = [row + half < rows, row >= half]
    if (comes && goes) {
      for (let column = 0; column < columns; column++) {
        const sum = running[column]! + across[come + column]!
        out[at + column] = sum
        running[column] = sum - across[gone + column]!
      }
      continue
    }
    if (comes) for (let column = 0; column < columns; column++) running[column]! += across[come + column]!
    for (let column = 0; column < columns; column++) out[at + column] = running[column]!
    if (goes) for (let column = 0; column < columns; column++) running[column]! -= across[gone + column]!
  }
  return out
}
