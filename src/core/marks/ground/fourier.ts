/** A complex plane in two arrays, row by row. */
export interface ComplexPlane {
  readonly columns: number
  readonly rows: number
  readonly re: Float32Array
  readonly im: Float32Array
}

export function complexPlane(columns: number, rows: number): ComplexPlane {
  const size = columns * rows
  return { columns, rows, re: new Float32Array(size), im: new Float32Array(size) }
}

/** The least length from `least` on that the transform below is quick for: 2^a times 1, 3, 5, 9 or 15, a multiple of 16. */
export function quickLength(least: number): number {
  let best = Infinity
  for (const odd of [1, 3, 5, 9, 15]) {
    let length = odd * 16
    while (length < least) length *= 2
    best = Math.min(best, length)
  }
  return best
}

/** The greatest length up to `most` that the transform is quick for; 16 at least. */
export function quickLengthWithin(most: number): number {
  let length = Math.max(16, most - (most % 16))
  while (length !== quickLength(length)) length -= 16
  return length
}

/** Lines that are transformed side by side, so that inner loops are long and run over neighbours: columns by the line of a cache, rows by what its second level holds. */
const columnLanes = 16
const rowLanes = 8

/**
 * The discrete Fourier transform of a plane in place; `sign` -1 forwards, +1 backwards (without the division by the size).
 *
 * Method  Stockham's self-sorting form with radices 4, 2, 3 and 5 (Van Loan 1992, "Computational Frameworks for the Fast
 *         Fourier Transform", section 1.7), eight rows or sixteen columns at a time.
 * Faults  RangeError for lengths with other prime factors, or no multiple of 8.
 */
export function transform(plane: ComplexPlane, sign: -1 | 1): void {
  for (const length of [plane.columns, plane.rows]) {
    if (length % 8 !== 0) throw new RangeError(`a plane's sides are multiples of 8, got ${length}`)
  }
  transformRows(plane, sign)
  transformColumns(plane, sign)
}

/** One half of `transform`: every `every`-th row of `from` to `to`, where the others are zero or not asked for. */
export function transformRows(
  { columns, rows, re, im }: ComplexPlane,
  sign: -1 | 1,
  { from, to, every }: RowChoice = { from: 0, to: rows, every: 1 },
): void {
  const across = lineTransform(columns, sign, rowLanes)
  for (let row = from; row < to; row += rowLanes * every) {
    const lines = Math.min(rowLanes, Math.ceil((to - row) / every))
    across(re, im, row * columns, 1, columns * every, lines)
  }
}

/** The other half. */
export function transformColumns({ columns, rows, re, im }: ComplexPlane, sign: -1 | 1): void {
  const down = lineTransform(rows, sign, columnLanes)
  for (let column = 0; column < columns; column += columnLanes)
    down(re, im, column, columns, 1, Math.min(columnLanes, columns - column))
}

export interface RowChoice {
  readonly from: number
  readonly to: number
  readonly every: number
}

/** Transforms `lines` lines that start at `from`, their points `step` apart, the lines `next` apart. */
type LineTransform = (
  re: Float32Array,
  im: Float32Array,
  from: number,
  step: number,
  next: number,
  lines: number,
) => void

function radices(length: number): number[] {
  const found: number[] = []
  let left = length
  for (const radix of [5, 3, 4, 2]) {
    while (left % radix === 0) {
      found.push(radix)
      left /= radix
    }
  }
  if (left !== 1) throw new RangeError(`no quick transform of ${length} points`)
  return found
}

const remembered = new Map<number, LineTransform>()

function lineTransform(length: number, sign: -1 | 1, lanes: number): LineTransform {
  const key = (length * 64 + lanes) * sign
  const known = remembered.get(key)
  if (known) return known
  const made = makeLineTransform(length, sign, lanes)
  remembered.set(key, made)
  return made
}

function makeLineTransform(length: number, sign: -1 | 1, lanes: number): LineTransform {
  const steps = radices(length)
  const [cos, sin] = [new Float64Array(length), new Float64Array(length)]
  for (let k = 0; k < length; k++) {
    cos[k] = Math.cos((2 * Math.PI * k) / length)
    sin[k] = sign * Math.sin((2 * Math.PI * k) / length)
  }
  const room = (): Float32Array => new Float32Array(length * lanes)
  const a: Pair = { re: room(), im: room() }
  const b: Pair = { re: room(), im: room() }
  return (re, im, from, step, next, lines) => {
    // The first pass takes the lines from the plane, and leaves them side by side.
    let pass: Pass = {
      x: { re, im },
      y: a,
      from,
      pointStep: step,
      laneStep: next,
      points: length,
      stride: lines,
      cos,
      sin,
      turn: 1,
      sign,
    }
    for (const radix of steps) {
      if (radix === 4) passOf4(pass)
      else if (radix === 2) passOf2(pass)
      else if (radix === 3) passOf3(pass)
      else passOf5(pass)
      const points = pass.points / radix
      const stride = pass.stride * radix
      const y = pass.y === a ? b : a
      pass = {
        x: pass.y,
        y,
        from: 0,
        pointStep: stride,
        laneStep: 1,
        points,
        stride,
        cos,
        sin,
        turn: length / points,
        sign,
      }
    }
    scatter(pass.x.re, re, { length, lines, from, step, next })
    scatter(pass.x.im, im, { length, lines, from, step, next })
  }
}

interface Shape {
  readonly length: number
  readonly lines: number
  readonly from: number
  readonly step: number
  readonly next: number
}

/** Lines that lie side by side back to a plane: whichever of the two loops runs over neighbours in the plane is the inner one. */
function scatter(
  from: Float32Array,
  plane: Float32Array,
  { length, lines, from: first, step, next }: Shape,
): void {
  if (step === 1) {
    for (let lane = 0; lane < lines; lane++) {
      const at = first + lane * next
      for (let k = 0, o = lane; k < length; k++, o += lines) plane[at + k] = from[o]!
    }
    return
  }
  for (let k = 0; k < length; k++) {
    const at = first + k * step
    const o = k * lines
    for (let lane = 0; lane < lines; lane++) plane[at + lane] = from[o + lane]!
  }
}

interface Pair {
  readonly re: Float32Array
  readonly im: Float32Array
}

interface Pass {
  readonly x: Pair
  readonly y: Pair
  /** Where in `x` it begins, how far apart there the points lie, and neighbours of which each is the same point of another transform. */
  readonly from: number
  readonly pointStep: number
  readonly laneStep: number
  /** Points of each transform that is left, and how many transforms there are side by side. */
  readonly points: number
  readonly stride: number
  /** Roots of unity of the whole length; every `turn`-th belongs to this pass. */
  readonly cos: Float64Array
  readonly sin: Float64Array
  readonly turn: number
  readonly sign: -1 | 1
}

function passOf2({ x, y, from, pointStep, laneStep, points, stride, cos, sin, turn }: Pass): void {
  const half = points / 2
  const xr = x.re
  const xi = x.im
  const yr = y.re
  const yi = y.im
  const reach = pointStep * half
  for (let p = 0; p < half; p++) {
    const wr = cos[p * turn]!
    const wi = sin[p * turn]!
    let out = 2 * stride * p
    for (let a = from + pointStep * p, end = out + stride; out < end; a += laneStep, out++) {
      const ar = xr[a]!
      const ai = xi[a]!
      const br = xr[a + reach]!
      const bi = xi[a + reach]!
      yr[out] = ar + br
      yi[out] = ai + bi
      const dr = ar - br
      const di = ai - bi
      yr[out + stride] = dr * wr - di * wi
      yi[out + stride] = dr * wi + di * wr
    }
  }
}

function passOf4({ x, y, from, pointStep, laneStep, points, stride, cos, sin, turn, sign }: Pass): void {
  const quarter = points / 4
  const xr = x.re
  const xi = x.im
  const yr = y.re
  const yi = y.im
  const reach = pointStep * quarter
  for (let p = 0; p < quarter; p++) {
    const w1r = cos[p * turn]!
    const w1i = sin[p * turn]!
    const w2r = cos[2 * p * turn]!
    const w2i = sin[2 * p * turn]!
    const w3r = cos[3 * p * turn]!
    const w3i = sin[3 * p * turn]!
    let out = 4 * stride * p
    for (let a = from + pointStep * p, end = out + stride; out < end; a += laneStep, out++) {
      const ar = xr[a]!
      const ai = xi[a]!
      const br = xr[a + reach]!
      const bi = xi[a + reach]!
      const cr = xr[a + 2 * reach]!
      const ci = xi[a + 2 * reach]!
      const dr = xr[a + 3 * reach]!
      const di = xi[a + 3 * reach]!
      const sumACr = ar + cr
      const sumACi = ai + ci
      const difACr = ar - cr
      const difACi = ai - ci
      const sumBDr = br + dr
      const sumBDi = bi + di
      // i (b - d), turned the way of the sign.
      const turnBDr = -sign * (bi - di)
      const turnBDi = sign * (br - dr)
      yr[out] = sumACr + sumBDr
      yi[out] = sumACi + sumBDi
      const oneR = difACr + turnBDr
      const oneI = difACi + turnBDi
      yr[out + stride] = oneR * w1r - oneI * w1i
      yi[out + stride] = oneR * w1i + oneI * w1r
      const twoR = sumACr - sumBDr
      const twoI = sumACi - sumBDi
      yr[out + 2 * stride] = twoR * w2r - twoI * w2i
      yi[out + 2 * stride] = twoR * w2i + twoI * w2r
      const threeR = difACr - turnBDr
      const threeI = difACi - turnBDi
      yr[out + 3 * stride] = threeR * w3r - threeI * w3i
      yi[out + 3 * stride] = threeR * w3i + threeI * w3r
    }
  }
}

function passOf3({ x, y, from, pointStep, laneStep, points, stride, cos, sin, turn, sign }: Pass): void {
  const third = points / 3
  const xr = x.re
  const xi = x.im
  const yr = y.re
  const yi = y.im
  const reach = pointStep * third
  const high = sign * Math.sqrt(0.75)
  for (let p = 0; p < third; p++) {
    const w1r = cos[p * turn]!
    const w1i = sin[p * turn]!
    const w2r = cos[2 * p * turn]!
    const w2i = sin[2 * p * turn]!
    let out = 3 * stride * p
    for (let a = from + pointStep * p, end = out + stride; out < end; a += laneStep, out++) {
      const ar = xr[a]!
      const ai = xi[a]!
      const br = xr[a + reach]!
      const bi = xi[a + reach]!
      const cr = xr[a + 2 * reach]!
      const ci = xi[a + 2 * reach]!
      const sumR = br + cr
      const sumI = bi + ci
      const middleR = ar - 0.5 * sumR
      const middleI = ai - 0.5 * sumI
      const turnR = -high * (bi - ci)
      const turnI = high * (br - cr)
      yr[out] = ar + sumR
      yi[out] = ai + sumI
      const oneR = middleR + turnR
      const oneI = middleI + turnI
      yr[out + stride] = oneR * w1r - oneI * w1i
      yi[out + stride] = oneR * w1i + oneI * w1r
      const twoR = middleR - turnR
      const twoI = middleI - turnI
      yr[out + 2 * stride] = twoR * w2r - twoI * w2i
      yi[out + 2 * stride] = twoR * w2i + twoI * w2r
    }
  }
}

const [c1, s1] = [Math.cos(0.4 * Math.PI), Math.sin(0.4 * Math.PI)]
const [c2, s2] = [Math.cos(0.8 * Math.PI), Math.sin(0.8 * Math.PI)]

/** Radix 5: points that mirror each other together. */
function passOf5({ x, y, from, pointStep, laneStep, points, stride, cos, sin, turn, sign }: Pass): void {
  const part = points / 5
  const reach = pointStep * part
  const xr = x.re
  const xi = x.im
  const yr = y.re
  const yi = y.im
  for (let p = 0; p < part; p++) {
    const w1r = cos[p * turn]!
    const w1i = sin[p * turn]!
    const w2r = cos[2 * p * turn]!
    const w2i = sin[2 * p * turn]!
    const w3r = cos[3 * p * turn]!
    const w3i = sin[3 * p * turn]!
    const w4r = cos[4 * p * turn]!
    const w4i = sin[4 * p * turn]!
    let out = 5 * stride * p
    for (let a = from + pointStep * p, end = out + stride; out < end; a += laneStep, out++) {
      const ar = xr[a]!
      const ai = xi[a]!
      const br = xr[a + reach]!
      const bi = xi[a + reach]!
      const cr = xr[a + 2 * reach]!
      const ci = xi[a + 2 * reach]!
      const dr = xr[a + 3 * reach]!
      const di = xi[a + 3 * reach]!
      const er = xr[a + 4 * reach]!
      const ei = xi[a + 4 * reach]!
      const sumBEr = br + er
      const sumBEi = bi + ei
      const sumCDr = cr + dr
      const sumCDi = ci + di
      yr[out] = ar + sumBEr + sumCDr
      yi[out] = ai + sumBEi + sumCDi
      const evenOneR = ar + c1 * sumBEr + c2 * sumCDr
      const evenOneI = ai + c1 * sumBEi + c2 * sumCDi
      const evenTwoR = ar + c2 * sumBEr + c1 * sumCDr
      const evenTwoI = ai + c2 * sumBEi + c1 * sumCDi
      const oddOneR = -sign * (s1 * (bi - ei) + s2 * (ci - di))
      const oddOneI = sign * (s1 * (br - er) + s2 * (cr - dr))
      const oddTwoR = -sign * (s2 * (bi - ei) - s1 * (ci - di))
      const oddTwoI = sign * (s2 * (br - er) - s1 * (cr - dr))
      const oneR = evenOneR + oddOneR
      const oneI = evenOneI + oddOneI
      yr[out + stride] = oneR * w1r - oneI * w1i
      yi[out + stride] = oneR * w1i + oneI * w1r
      const twoR = evenTwoR + oddTwoR
      const twoI = evenTwoI + oddTwoI
      yr[out + 2 * stride] = twoR * w2r - twoI * w2i
      yi[out + 2 * stride] = twoR * w2i + twoI * w2r
      const threeR = evenTwoR - oddTwoR
      const threeI = evenTwoI - oddTwoI
      yr[out + 3 * stride] = threeR * w3r - threeI * w3i
      yi[out + 3 * stride] = threeR * w3i + threeI * w3r
      const fourR = evenOneR - oddOneR
      const fourI = evenOneI - oddOneI
      yr[out + 4 * stride] = fourR * w4r - fourI * w4i
      yi[out + 4 * stride] = fourR * w4i + fourI * w4r
    }
  }
}
