import { type ComplexPlane, quickLength, transformColumns, transformRows } from '../ground/fourier.ts'
import type { Ridges } from '../ground/ridges.ts'
import { scratch } from '../ground/scratch.ts'
import { type RingKernel, tableStep, tableSteps } from './ring-kernels.ts'

/** Frequencies of a padded plane, its left half: of a real image the right half is the mirror. Where each falls in the tables, and its direction doubled. */
interface Frequencies {
  readonly columns: number
  readonly rows: number
  /** Columns of the left half, that of the highest frequency among them. */
  readonly half: number
  readonly step: Uint16Array
  readonly cosine: Float32Array
  readonly sine: Float32Array
}

let lastFrequencies: Frequencies | null = null

function frequencies(columns: number, rows: number): Frequencies {
  if (lastFrequencies?.columns === columns && lastFrequencies.rows === rows) return lastFrequencies
  const half = columns / 2 + 1
  const size = half * rows
  const made: Frequencies = {
    columns,
    rows,
    half,
    step: new Uint16Array(size),
    cosine: new Float32Array(size),
    sine: new Float32Array(size),
  }
  for (let v = 0; v < rows; v++) frequencyRow(made, v)
  lastFrequencies = made
  return made
}

function frequencyRow({ columns, rows, half, step, cosine, sine }: Frequencies, v: number): void {
  const ky = (2 * Math.PI * (v <= rows / 2 ? v : v - rows)) / rows
  for (let u = 0; u < half; u++) {
    const kx = (2 * Math.PI * u) / columns
    const i = v * half + u
    const square = kx * kx + ky * ky
    step[i] = Math.min(tableSteps - 1, Math.round(Math.sqrt(square) / tableStep))
    if (square === 0) continue
    cosine[i] = (kx * kx - ky * ky) / square
    sine[i] = (2 * kx * ky) / square
  }
}

/** What is laid over an image for one map: tables of a kernel for the image, for ridge strength, and for aligned ridges. */
export type MapTables = Pick<RingKernel, 'even' | 'aligned' | 'matched'>

/** Called with two maps of the padded plane: rows of `stride`, of which the first columns and rows are the image's. */
export type PairVisitor = (pair: number, first: Float32Array, second: Float32Array, stride: number) => void

/** Scratch taken: two planes and the half spectra. */
const spectrumPlaces = 4

/** A part of an image of so many `stride` columns. */
export interface Part {
  readonly left: number
  readonly top: number
  readonly columns: number
  readonly rows: number
  readonly stride: number
}

/** Pads, transforms and takes apart what all maps of a part of an image need; good until the next call. `reach` is that of the widest kernel, pixels. */
export function ringSpectra(
  flat: Float32Array,
  { strength, cosine, sine }: Ridges,
  part: Part,
  reach: number,
): RingSpectra {
  const columns = quickLength(part.columns + reach)
  const rows = quickLength(part.rows + reach)
  const places = frequencies(columns, rows)
  const plane = (place: number): ComplexPlane => ({
    columns,
    rows,
    re: scratch(place, columns * rows),
    im: scratch(place + 1, columns * rows),
  })
  const first = packed(flat, strength, part, plane(spectrumPlaces))
  const second = packed(cosine, sine, part, plane(spectrumPlaces + 2))
  const filled = { from: 0, to: part.rows, every: 1 }
  for (const plane of [first, second]) {
    transformRows(plane, -1, filled)
    transformColumns(plane, -1)
  }
  return { ...separated(first, second, places), places, room: second }
}

/** Which pixels of the maps are made: the first `rows`, or every fourth pixel both ways. */
export interface MapsWanted {
  readonly rows: number
  readonly every?: 1 | 4
}

/**
 * Maps two at a time: the sum of the image, its ridge strength and its aligned ridges, each under its kernel.
 * Every fourth pixel of a map is the transform of its spectrum folded to a fourth of its sides: frequencies that every fourth pixel cannot tell apart are added up.
 * Cost: one transform of the padded plane, folded, for two maps.
 */
export function eachMapPair(
  spectra: RingSpectra,
  pairs: readonly (readonly [MapTables, MapTables])[],
  { rows, every = 1 }: MapsWanted,
  visit: PairVisitor,
): void {
  const { halves, places, room } = spectra
  const columns = places.columns / every
  const size = columns * (places.rows / every)
  const folded: ComplexPlane = {
    columns,
    rows: places.rows / every,
    re: room.re.subarray(0, size),
    im: room.im.subarray(0, size),
  }
  pairs.forEach(([first, second], pair) => {
    laid(first, second, halves, places, folded)
    transformColumns(folded, 1)
    transformRows(folded, 1, { from: 0, to: Math.ceil(rows / every), every: 1 })
    visit(pair, folded.re, folded.im, columns)
  })
}

/** Two real images in one complex plane, padded with zeros. */
function packed(re: Float32Array, im: Float32Array, part: Part, plane: ComplexPlane): ComplexPlane {
  const { columns } = plane
  plane.re.fill(0)
  plane.im.fill(0)
  for (let row = 0; row < part.rows; row++) {
    const from = (part.top + row) * part.stride + part.left
    plane.re.set(re.subarray(from, from + part.columns), row * columns)
    plane.im.set(im.subarray(from, from + part.columns), row * columns)
  }
  return plane
}

/** Spectra of the image, of ridge strength, and of the ridges' second harmonic turned towards each wave vector; the left half of each, their numbers side by side. */
export interface RingSpectra {
  /** Six numbers a frequency: image, strength and aligned, real and imaginary parts. */
  readonly halves: Float32Array
  readonly places: Frequencies
  /** Where maps are made; overwritten by each. */
  readonly room: ComplexPlane
}

/** Takes the pairs apart (the transform of a real image is the conjugate of itself at the opposite frequency). */
function separated(
  first: ComplexPlane,
  second: ComplexPlane,
  places: Frequencies,
): Pick<RingSpectra, 'halves'> {
  const halves = scratch(spectrumPlaces + 4, 6 * places.half * places.rows)
  for (let v = 0; v < places.rows; v++) separatedRow(first, second, places, v, halves)
  return { halves }
}

function separatedRow(
  { re: firstRe, im: firstIm }: ComplexPlane,
  { re: secondRe, im: secondIm }: ComplexPlane,
  { columns, rows, half, cosine, sine }: Frequencies,
  v: number,
  halves: Float32Array,
): void {
  const opposite = ((rows - v) % rows) * columns
  for (let u = 0; u < half; u++) {
    const i = v * columns + u
    const j = u === 0 ? opposite : opposite + columns - u
    const place = v * half + u
    const to = 6 * place
    const ar = firstRe[i]!
    const ai = firstIm[i]!
    const br = firstRe[j]!
    const bi = firstIm[j]!
    halves[to] = (ar + br) / 2
    halves[to + 1] = (ai - bi) / 2
    halves[to + 2] = (ai + bi) / 2
    halves[to + 3] = (br - ar) / 2
    const cr = secondRe[i]!
    const ci = secondIm[i]!
    const dr = secondRe[j]!
    const di = secondIm[j]!
    const c = cosine[place]! / 2
    const s = sine[place]! / 2
    halves[to + 4] = (cr + dr) * c + (ci + di) * s
    halves[to + 5] = (ci - di) * c + (dr - cr) * s
  }
}

/** One map in the real part, the other in the imaginary one; divided by the size, for the way back. Folded to the size of `out`, a part of that of the spectra. */
function laid(
  first: MapTables,
  second: MapTables,
  halves: Float32Array,
  places: Frequencies,
  out: ComplexPlane,
): void {
  const { rows } = places
  const tables = sideBySide(first, second, 1 / (places.columns * rows))
  out.re.fill(0)
  out.im.fill(0)
  for (let v = 0; v < rows; v++) laidRow(tables, halves, places, v, out)
}

/** A row of frequencies, and its mirror. By rows, here and elsewhere: a short loop that is called often runs as fast machine code sooner than a long one within another. */
function laidRow(
  tables: Float64Array,
  halves: Float32Array,
  { rows, half, step }: Frequencies,
  v: number,
  { columns: wide, rows: tall, re: outRe, im: outIm }: ComplexPlane,
): void {
  const row = (v % tall) * wide
  const opposite = ((rows - v) % tall) * wide
  let across = 0
  for (let u = 0; u < half; u++) {
    const place = v * half + u
    const from = 6 * place
    const at = step[place]! * 8
    const m1 = tables[at]!
    const e1 = tables[at + 1]!
    const a1 = tables[at + 2]!
    const m2 = tables[at + 3]!
    const e2 = tables[at + 4]!
    const a2 = tables[at + 5]!
    const imageRe = halves[from]!
    const imageIm = halves[from + 1]!
    const strengthRe = halves[from + 2]!
    const strengthIm = halves[from + 3]!
    const alignedRe = halves[from + 4]!
    const alignedIm = halves[from + 5]!
    const re1 = imageRe * m1 + strengthRe * e1 + alignedRe * a1
    const im1 = imageIm * m1 + strengthIm * e1 + alignedIm * a1
    const re2 = imageRe * m2 + strengthRe * e2 + alignedRe * a2
    const im2 = imageIm * m2 + strengthIm * e2 + alignedIm * a2
    const i = row + across
    outRe[i]! += re1 - im2
    outIm[i]! += im1 + re2
    // The first and the last column of the half are their own mirrors.
    if (u > 0 && u < half - 1) {
      const j = opposite + (across === 0 ? 0 : wide - across)
      outRe[j]! += re1 + im2
      outIm[j]! += re2 - im1
    }
    if (++across === wide) across = 0
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
