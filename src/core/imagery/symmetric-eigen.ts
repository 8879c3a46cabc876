/** Eigenvalues from the greatest down, and the eigenvector of each, of length 1, as rows one after another. */
export interface Eigen {
  readonly values: Float64Array
  readonly vectors: Float64Array
}

const sweeps = 60

/**
 * Eigenvalues and eigenvectors of a symmetric matrix of `size` rows, given row by row. Of the two directions of an eigenvector the
 * one is taken whose entry of greatest size (the first of equals) is positive, so that an answer does not depend on the way to it.
 *
 * Method  cyclic Jacobi rotations, until the entries off the diagonal are lost beside the others.
 * Source  Jacobi 1846; Golub and Van Loan 2013, Matrix Computations, 4th ed., section 8.5.
 * Cost    some ten sweeps of size^3 each.
 * Faults  RangeError where the matrix has another size or holds what is not a number.
 */
export function symmetricEigen(matrix: ArrayLike<number>, size: number): Eigen {
  if (matrix.length !== size * size)
    throw new RangeError(`${matrix.length} entries are no ${size} x ${size} matrix`)
  const a = Float64Array.from(matrix)
  if (!a.every(Number.isFinite)) throw new RangeError('a matrix of finite numbers is needed')
  const v = new Float64Array(size * size)
  for (let i = 0; i < size; i++) v[i * size + i] = 1
  for (let sweep = 0; sweep < sweeps; sweep++) {
    let turned = false
    for (let p = 0; p < size - 1; p++)
      for (let q = p + 1; q < size; q++) turned = rotateAway(a, v, size, p, q) || turned
    if (!turned) break
  }
  const order = Array.from({ length: size }, (_, i) => i).sort((i, j) => a[j * size + j]! - a[i * size + i]!)
  const values = Float64Array.from(order, (i) => a[i * size + i]!)
  const vectors = new Float64Array(size * size)
  order.forEach((from, to) => {
    vectors.set(directed(v.subarray(from * size, (from + 1) * size)), to * size)
  })
  return { values, vectors }
}

/** One rotation that makes the entry (p, q) zero; false where it is nothing beside the diagonal already. */
function rotateAway(a: Float64Array, v: Float64Array, n: number, p: number, q: number): boolean {
  const off = a[p * n + q]!
  const app = a[p * n + p]!
  const aqq = a[q * n + q]!
  if (Math.abs(off) <= 1e-17 * Math.sqrt(Math.abs(app * aqq)) || off === 0) return false
  const tau = (aqq - app) / (2 * off)
  const t = Math.sign(tau || 1) / (Math.abs(tau) + Math.hypot(1, tau))
  const c = 1 / Math.hypot(1, t)
  const s = t * c
  for (let k = 0; k < n; k++) {
    const akp = a[k * n + p]!
    const akq = a[k * n + q]!
    a[k * n + p] = c * akp - s * akq
    a[k * n + q] = s * akp + c * akq
  }
  for (let k = 0; k < n; k++) {
    const apk = a[p * n + k]!
    const aqk = a[q * n + k]!
    a[p * n + k] = c * apk - s * aqk
    a[q * n + k] = s * apk + c * aqk
    const vpk = v[p * n + k]!
    const vqk = v[q * n + k]!
    v[p * n + k] = c * vpk - s * vqk
    v[q * n + k] = s * vpk + c * vqk
  }
  a[p * n + q] = 0
  a[q * n + p] = 0
  return true
}

function directed(vector: Float64Array): Float64Array {
  let most = 0
  for (let i = 1; i < vector.length; i++)
    if (Math.abs(vector[i]!) > Math.abs(vector[most]!) * (1 + 1e-9)) most = i
  return vector[most]! < 0 ? vector.map((entry) => -entry) : vector
}
