import { SurveyError } from '#core/faults'
import { planarGrid } from '#core/geodesy'
import type { Placement } from '#core/imagery'
import { ostn15 } from '#work'
import { knownSystem } from './layers/ground-system.ts'
import type { MarksRaster } from './marks-raster.ts'

/** How the pixels of a raster lie on the ground, for work in them. */
export interface Ground {
  readonly placement: Placement
  readonly pixelM: number
  /** Degrees to be added to a bearing from the pixels' up to get one from grid north. */
  readonly turnDeg: number
  readonly toWgs84: (xy: Float64Array) => void
  readonly epsg: number | null
}

/** Pixels may differ by this share in width and height before a circle on the ground is no circle in them. */
const squareWithin = 0.02

/** Null where the raster does not say where it lies, or in what. Faults: SurveyError 'unknown-system', 'unsupported-feature'. */
export function groundOf(name: string, { placement, epsg, systemText }: MarksRaster): Ground | null {
  const system = knownSystem(epsg, systemText)
  if (!placement || !system) return null
  if (system.degrees) {
    const sentence = `${name} is in degrees, in which a circle on the ground is none; bring it into a grid in metres first (British National Grid, UTM).`
    throw new SurveyError('unknown-system', sentence)
  }
  const [a, b, , d, e] = placement.toGround as [number, number, number, number, number]
  const [wide, tall] = [Math.hypot(a, d), Math.hypot(b, e)]
  const skew = Math.abs(a * b + d * e) / (wide * tall)
  if (Math.abs(wide / tall - 1) > squareWithin || skew > squareWithin) {
    const sentence = `The pixels of ${name} are not square on the ground (${wide.toPrecision(4)} by ${tall.toPrecision(4)} m); resample it to square ones first.`
    throw new SurveyError('unsupported-feature', sentence)
  }
  const toWgs84 = (xy: Float64Array): void => {
    system.convert?.(xy, xy)
    if (system.epsg !== 4326) planarGrid(system.epsg, ostn15()).inverse(xy, xy)
  }
  // Up is the direction against a row.
  const turnDeg = (Math.atan2(-b, -e) * 180) / Math.PI
  return {
    placement,
    pixelM: Math.sqrt(wide * tall),
    turnDeg,
    toWgs84,
    epsg: system.convert ? epsg : system.epsg,
  }
}
