import {
  type ComplexPlane,
  complexPlane,
  quickLength,
  type RowChoice,
  transformColumns,
  transformRows,
} from './fourier.ts'
import type { Ridges } from './ridges.ts'
import { type RingKernel, tableStep, tableSteps } from './ring-kernels.ts'

/** Frequencies of a padded plane: where each falls in the tables, and its direction doubled. */
interface Frequencies {
  readonly columns: number
  readonly rows: number
  readonly step: Uint16Array
  readonly cosine: Float32Array
  readonly sine: Float32Array
}

let lastFrequencies: Frequencies | null = null

function frequencies(columns: number, rows: number): Frequencies {
  if (lastFrequencies?.columns === columns && lastFrequencies.rows === rows) return lastFrequencies
  const size = columns * rows
  const step = new Uint16Array(size)
  const [cosine, sine] = [new Float32Array(size), new Float32Array(size)]
  for (let v = 0; v < rows; v++) {
    const ky = (2 * Math.PI * (v <= rows / 2 ? v : v - rows)) / rows
    for (let u = 0; u < columns; u++) {
      const kx = (2 * Math.PI * (u <= columns / 2 ? u : u - columns)) / columns
      const i = v * columns + u
      const square = kx * kx + ky * ky
      step[i] = Math.min(tableSteps - 1, Math.round(Math.sqrt(square) / tableStep))
      if (square === 0) continue
      cosine[i] = (kx * kx - ky * ky) / square
      sine[i] = (2 * kx * ky) / square
    }
  }
  lastFrequencies = { columns, rows, step, cosine, sine }
  return lastFrequencies
}

/** What is laid over an image for one map: tables of a kernel for the image, for ridge strength, and for aligned ridges. */
export type MapTables = Pick<RingKernel, 'even' | 'aligned' | 'matched'>

/** Called with two maps of the padded plane: rows of `stride`, of which the first columns and rows are the image's. */
export type PairVisitor = (pair: number, first: Float32Array, second: Float32Array, stride: number) => void

/** Pads, transforms and takes apart what all maps of an image need. `reach` is that of the widest kernel, pixels. */
export function ringSpectra(
  flat: Float32Array,
  { strength, cosine, sine }: Ridges,
  size: { readonly columns: number; readonly rows: number },
  reach: number,
): RingSpectra {
  const columns = quickLength(size.columns + reach)
  const rows = quickLength(size.rows + reach)
  const places = frequencies(columns, rows)
  const first = packed(flat, strength, size, columns, rows)
  const second = packed(cosine, sine, size, columns, rows)
  const filled = { from: 0, to: size.rows, every: 1 }
  for (const plane of [first, second]) {
    transformRows(plane, -1, filled)
    transformColumns(plane, -1)
  }
  return { ...separated(first, second, places), places, room: second }
}

/**
 * Maps two at a time: the sum of the image, its ridge strength and its aligned ridges, each under its kernel.
 * Only the rows `wanted` of the maps are made. Cost: one transform of the padded plane for two maps.
 */
export function eachMapPair(
  spectra: RingSpectra,
  pairs: readonly (readonly [MapTables, MapTables])[],
  wanted: RowChoice,
  visit: PairVisitor,
): void {
  const { places, room } = spectra
  pairs.forEach(([first, second], pair) => {
    laid(first, second, spectra, places, room)
    transformColumns(room, 1)
    transformRows(room, 1, wanted)
    visit(pair, room.re, room.im, places.columns)
  })
}

/** Two real images in one complex plane, padded with zeros. */
function packed(
  re: Float32Array,
  im: Float32Array,
  size: { readonly columns: number; readonly rows: number },
  columns: number,
  rows: number,
): ComplexPlane {
  const plane = complexPlane(columns, rows)
  for (let row = 0; row < size.rows; row++) {
    const from = row * size.columns
    plane.re.set(re.subarray(from, from + size.columns), row * columns)
    plane.im.set(im.subarray(from, from + size.columns), row * columns)
  }
  return plane
}

/** Spectra of the image, of ridge strength, and of the ridges' second harmonic turned towards each wave vector. */
export interface RingSpectra {
  readonly image: ComplexPlane
  readonly strength: ComplexPlane
  readonly aligned: ComplexPlane
  readonly places: Frequencies
  /** Where maps are made; overwritten by each. */
  readonly room: ComplexPlane
}

/** Takes the pairs apart (the transform of a real image is the conjugate of itself at the opposite frequency). */
function separated(
  first: ComplexPlane,
  second: ComplexPlane,
  { cosine, sine }: Frequencies,
): Pick<RingSpectra, 'image' | 'strength' | 'aligned'> {
  const { columns, rows } = first
  const image = complexPlane(columns, rows)
  const strength = complexPlane(columns, rows)
  const aligned = complexPlane(columns, rows)
  for (let v = 0; v < rows; v++) {
    const opposite = ((rows - v) % rows) * columns
    for (let u = 0; u < columns; u++) {
      const i = v * columns + u
      const j = opposite + ((columns - u) % columns)
      const ar = first.re[i]!
      const ai = first.im[i]!
      const br = first.re[j]!
      const bi = first.im[j]!
      image.re[i] = (ar + br) / 2
      image.im[i] = (ai - bi) / 2
      strength.re[i] = (ai + bi) / 2
      strength.im[i] = (br - ar) / 2
      const cr = second.re[i]!
      const ci = second.im[i]!
      const dr = second.re[j]!
      const di = second.im[j]!
      const c = cosine[i]! / 2
      const s = sine[i]! / 2
      aligned.re[i] = (cr + dr) * c + (ci + di) * s
      aligned.im[i] = (ci - di) * c + (dr - cr) * s
    }
  }
  return { image, strength, aligned }
}

/** One map in the real part, the other in the imaginary one; divided by the size, for the way back. */
function laid(
  first: MapTables,
  second: MapTables,
  sums: RingSpectra,
  { step }: Frequencies,
  out: ComplexPlane,
): void {
  const tables = sideBySide(first, second, 1 / step.length)
  const { image, strength, aligned } = sums
  const ir = image.re
  const ii = image.im
  const sr = strength.re
  const si = strength.im
  const ar = aligned.re
  const ai = aligned.im
  const outRe = out.re
  const outIm = out.im
  for (let i = 0; i < step.length; i++) {
    const at = step[i]! * 8
    const m1 = tables[at]!
    const e1 = tables[at + 1]!
    const a1 = tables[at + 2]!
    const m2 = tables[at + 3]!
    const e2 = tables[at + 4]!
    const a2 = tables[at + 5]!
    const imageRe = ir[i]!
    const imageIm = ii[i]!
    const strengthRe = sr[i]!
    const strengthIm = si[i]!
    const alignedRe = ar[i]!
    const alignedIm = ai[i]!
    const im1 = imageIm * m1 + strengthIm * e1 + alignedIm * a1
    const im2 = imageIm * m2 + strengthIm * e2 + alignedIm * a2
    outRe[i] = imageRe * m1 + strengthRe * e1 + alignedRe * a1 - im2
    outIm[i] = im1 + imageRe * m2 + strengthRe * e2 + alignedRe * a2
  }
}

/** The six tables of a pair in one, eight numbers a step, so that a step costs one line of the cache. */
function sideBySide(first: MapTables, second: MapTables, times: number): Float64Array {
  const out = new Float64Array(tableSteps * 8)
  for (let i = 0; i < tableSteps; i++) {
    out[8 * i] = first.matched[i]! * times
    out[8 * i + 1] = first.even[i]! * times
    out[8 * i + 2] = first.aligned[i]! * times
    out[8 * i + 3] = second.matched[i]! * times
    out[8 * i + 4] = second.even[i]! * times
    out[8 * i + 5] = second.aligned[i]! * times
  }
  return out
}
