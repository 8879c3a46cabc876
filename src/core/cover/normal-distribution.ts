const rootOfTwoPi = Math.sqrt(2 * Math.PI)

/** Density of the standard normal distribution. */
export function normalDensity(z: number): number {
  return Math.exp((-z * z) / 2) / rootOfTwoPi
}

/**
 * Chance that a standard normal number is at most `z`.
 *
 * Method  Phi(z) = 1/2 + phi(z) (z + z^3 / 3 + z^5 / (3 5) + ...); right to about 1e-15, beyond 8 taken as 0 or 1.
 * Source  Marsaglia 2004, "Evaluating the normal distribution", Journal of Statistical Software 11 (4).
 */
export function normalShare(z: number): number {
  if (Number.isNaN(z)) return z
  if (z < -8) return 0
  if (z > 8) return 1
  let term = z
  let sum = z
  for (let k = 3; sum + term !== sum; k += 2) {
    term *= (z * z) / k
    sum += term
  }
  return 0.5 + sum * normalDensity(z)
}
