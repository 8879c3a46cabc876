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

/** Lines that are transformed side by side, so that inner loops are long and run over neighbours. */
const lanes = 8

/**
 * The discrete Fourier transform of a plane in place; `sign` -1 forwards, +1 backwards (without the division by the size).
 *
 * Method  Stockham's self-sorting form with radices 4, 2, 3 and 5 (Van Loan 1992, "Computational Frameworks for the Fast
 *         Fourier Transform", section 1.7), eight lines at a time.
 * Faults  RangeError for lengths with other prime factors, or no multiple of 8.
 */
export function transform(plane: ComplexPlane, sign: -1 | 1): void {
  const { columns, rows, re, im } = plane
  for (const length of [columns, rows]) {
    if (length % lanes !== 0) throw new RangeError(`a plane's sides are multiples of ${lanes}, got ${length}`)
  }
  const across = lineTransform(columns, sign)
  for (let row = 0; row < rows; row += lanes) across(re, im, row * columns, 1, columns)
  const down = lineTransform(rows, sign)
  for (let column = 0; column < columns; column += lanes) down(re, im, column, columns, 1)
}

/** Transforms eight lines that start at `from`, their points `step` apart, the lines `next` apart. */
type LineTransform = (re: Float32Array, im: Float32Array, from: number, step: number, next: number) => void

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

function lineTransform(length: number, sign: -1 | 1): LineTransform {
  const known = remembered.get(length * sign)
  if (known) return known
  const made = makeLineTransform(length, sign)
  remembered.set(length * sign, made)
  return made
}

function makeLineTransform(length: number, sign: -1 | 1): LineTransform {
  const steps = radices(length)
  const [cos, sin] = [new Float64Array(length), new Float64Array(length)]
  for (let k = 0; k < length; k++) {
    cos[k] = Math.cos((2 * Math.PI * k) / length)
    sin[k] = sign * Math.sin((2 * Math.PI * k) / length)
  }
  const room = (): Float32Array => new Float32Array(length * lanes)
  const [aRe, aIm, bRe, bIm] = [room(), room(), room(), room()]
  return (re, im, from, step, next) => {
    for (let k = 0; k < length; k++) {
      const at = from + k * step
      for (let lane = 0; lane < lanes; lane++) {
        aRe[k * lanes + lane] = re[at + lane * next]!
        aIm[k * lanes + lane] = im[at + lane * next]!
      }
    }
    let x: Pair = { re: aRe, im: aIm }
    let y: Pair = { re: bRe, im: bIm }
    let points = length
    let stride = lanes
    for (const radix of steps) {
      const pass = { x, y, points, stride, cos, sin, turn: length / points, sign }
      if (radix === 4) passOf4(pass)
      else if (radix === 2) passOf2(pass)
      else if (radix === 3) passOf3(pass)
      else passOf5(pass)
      points /= radix
      stride *= radix
      ;[x, y] = [y, x]
    }
    for (let k = 0; k < length; k++) {
      const at = from + k * step
      for (let lane = 0; lane < lanes; lane++) {
        re[at + lane * next] = x.re[k * lanes + lane]!
        im[at + lane * next] = x.im[k * lanes + lane]!
      }
    }
  }
}

interface Pair {
  readonly re: Float32Array
  readonly im: Float32Array
}

interface Pass {
  readonly x: Pair
  readonly y: Pair
  /** Points of each transform that is left, and how far apart they lie. */
  readonly points: number
  readonly stride: number
  /** Roots of unity of the whole length; every `turn`-th belongs to this pass. */
  readonly cos: Float64Array
  readonly sin: Float64Array
  readonly turn: number
  readonly sign: -1 | 1
}

function passOf2({ x, y, points, stride, cos, sin, turn }: Pass): void {
  const half = points / 2
  const xr = x.re
  const xi = x.im
  const yr = y.re
  const yi = y.im
  const reach = stride * half
  for (let p = 0; p < half; p++) {
    const wr = cos[p * turn]!
    const wi = sin[p * turn]!
    let out = 2 * stride * p
    for (let a = stride * p, end = a + stride; a < end; a++, out++) {
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

function passOf4({ x, y, points, stride, cos, sin, turn, sign }: Pass): void {
  const quarter = points / 4
  const xr = x.re
  const xi = x.im
  const yr = y.re
  const yi = y.im
  const reach = stride * quarter
  for (let p = 0; p < quarter; p++) {
    const w1r = cos[p * turn]!
    const w1i = sin[p * turn]!
    const w2r = cos[2 * p * turn]!
    const w2i = sin[2 * p * turn]!
    const w3r = cos[3 * p * turn]!
    const w3i = sin[3 * p * turn]!
    let out = 4 * stride * p
    const from = stride * p
    const end = from + stride
    for (let a = from; a < end; a++, out++) {
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

function passOf3({ x, y, points, stride, cos, sin, turn, sign }: Pass): void {
  const third = points / 3
  const xr = x.re
  const xi = x.im
  const yr = y.re
  const yi = y.im
  const reach = stride * third
  const high = sign * Math.sqrt(0.75)
  for (let p = 0; p < third; p++) {
    const w1r = cos[p * turn]!
    const w1i = sin[p * turn]!
    const w2r = cos[2 * p * turn]!
    const w2i = sin[2 * p * turn]!
    let out = 3 * stride * p
    for (let a = stride * p, end = a + stride; a < end; a++, out++) {
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

/** Radix 5, rare: each output by the definition, points that mirror each other together. */
function passOf5({ x, y, points, stride, cos, sin, turn, sign }: Pass): void {
  const part = points / 5
  const reach = stride * part
  const length = points * turn
  for (let p = 0; p < part; p++) {
    for (let j = 0; j < 5; j++) {
      const twist = (j * p * turn) % length
      const tr = cos[twist]!
      const ti = sin[twist]!
      const [c1, s1] = [Math.cos(0.4 * Math.PI * j), sign * Math.sin(0.4 * Math.PI * j)]
      const [c2, s2] = [Math.cos(0.8 * Math.PI * j), sign * Math.sin(0.8 * Math.PI * j)]
      let out = stride * (5 * p + j)
      for (let a = stride * p, end = a + stride; a < end; a++, out++) {
        const br = x.re[a + reach]!
        const bi = x.im[a + reach]!
        const cr = x.re[a + 2 * reach]!
        const ci = x.im[a + 2 * reach]!
        const dr = x.re[a + 3 * reach]!
        const di = x.im[a + 3 * reach]!
        const er = x.re[a + 4 * reach]!
        const ei = x.im[a + 4 * reach]!
        const re = x.re[a]! + c1 * (br + er) - s1 * (bi - ei) + c2 * (cr + dr) - s2 * (ci - di)
        const im = x.im[a]! + c1 * (bi + ei) + s1 * (br - er) + c2 * (ci + di) + s2 * (cr - dr)
        y.re[out] = re * tr - im * ti
        y.im[out] = re * ti + im * tr
      }
    }
  }
}
