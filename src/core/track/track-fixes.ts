import type { PlanarTrack } from './planar-track.ts'

/** A track as recorded, with what its receiver said of its own error. */
export interface TrackFixes extends PlanarTrack {
  /** Radius in metres that holds the true place with about 68 % chance, NaN where not told; null or absent if never told. */
  readonly accuracyM?: Float64Array | null
  /** Horizontal dilution of precision, NaN where not told; null or absent if never told. */
  readonly hdop?: Float64Array | null
}

/** A radius that holds 68.27 % of a normal error in the plane is this many standard deviations of one axis (Rayleigh). */
const axisErrorsInRadius = Math.sqrt(-2 * Math.log(1 - 0.6827))

/** The radius in metres that holds 68.27 % of an error whose standard deviation along one axis is this. */
export const radiusOfError = (errorM: number): number => errorM * axisErrorsInRadius

/**
 * Standard deviation of each fix along one axis, metres: from its accuracy, else from its hdop, else `errorM`.
 * `hdopM` is the error that an hdop of 1 stands for.
 */
export function errorOfFixes(
  { xy, accuracyM, hdop }: TrackFixes,
  { errorM, hdopM }: { readonly errorM: number; readonly hdopM: number },
): Float64Array {
  const error = new Float64Array(xy.length >> 1).fill(errorM)
  for (let i = 0; i < error.length; i++) {
    const radius = accuracyM?.[i] ?? Number.NaN
    const dilution = hdop?.[i] ?? Number.NaN
    if (radius > 0) error[i] = radius / axisErrorsInRadius
    else if (dilution > 0) error[i] = dilution * hdopM
  }
  return error
}
