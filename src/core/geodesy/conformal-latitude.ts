/** Tangent of the conformal latitude from that of the geographic. Karney 2011, equations 7 to 9. */
export function conformalTangent(tau: number, eccentricity: number): number {
  const secant = Math.sqrt(1 + tau * tau)
  const sigma = Math.sinh(eccentricity * Math.atanh((eccentricity * tau) / secant))
  return Number.isFinite(tau) ? tau * Math.sqrt(1 + sigma * sigma) - sigma * secant : tau
}

/**
 * Tangent of the geographic latitude from that of the conformal: Newton's method, Karney 2011, equations 19 to 21.
 * Two steps reach the last bit almost everywhere; a few more are allowed.
 */
export function geographicTangent(tauPrime: number, eccentricity: number): number {
  const squared = 1 - eccentricity * eccentricity
  if (!(Math.abs(tauPrime) < 1e15)) return tauPrime
  let tau = tauPrime / squared
  for (let step = 0; step < 6; step += 1) {
    const secant = Math.sqrt(1 + tau * tau)
    const sigma = Math.sinh(eccentricity * Math.atanh((eccentricity * tau) / secant))
    const guess = tau * Math.sqrt(1 + sigma * sigma) - sigma * secant
    const change =
      ((tauPrime - guess) * (1 + squared * tau * tau)) / (squared * secant * Math.sqrt(1 + guess * guess))
    tau += change
    if (!(Math.abs(change) > 1e-12 * Math.max(1, Math.abs(tau)))) break
  }
  return tau
}
