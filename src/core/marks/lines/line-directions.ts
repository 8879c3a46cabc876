/** Directions along which lines are looked for, evenly over half a turn. */
const directionCount = 16

/** One direction of a filter, and how neighbours along it are reached in a raster. */
export interface LineDirection {
  /** Of the line, from the columns' direction towards the rows'. */
  readonly cos: number
  readonly sin: number
}

export const lineDirections: readonly LineDirection[] = Array.from({ length: directionCount }, (_, d) => ({
  cos: Math.cos((d * Math.PI) / directionCount),
  sin: Math.sin((d * Math.PI) / directionCount),
}))

/** How far, in pixels, the sums along a line reach from where second derivatives are taken. */
export const sumReach = 11

/** Offsets of the sum in a raster of a row length: the two neighbours on one side with their shares, and the steps of the outer sum. */
export interface SumSteps {
  readonly near: number
  readonly nearNext: number
  readonly share: number
  readonly step: number
  readonly twice: number
  readonly thrice: number
}

/** Half away from 0, so that mirrored directions have mirrored steps. */
const rounded = (value: number): number => Math.sign(value) * Math.round(Math.abs(value))

export function sumSteps({ cos, sin }: LineDirection, stride: number): SumSteps {
  const acrossColumns = Math.abs(cos) >= Math.abs(sin) - 1e-9
  const slope = acrossColumns ? sin / cos : cos / sin
  const [major, minor] = acrossColumns ? [1, stride] : [stride, 1]
  // A step along a diagonal is longer: three of them are taken to be some three pixels in any direction.
  const steps = Math.round(3 * Math.max(Math.abs(cos), Math.abs(sin)))
  const whole = Math.floor(slope + 1e-9)
  const at = (n: number): number => n * major + rounded(n * slope - 1e-9 * Math.sign(slope)) * minor
  return {
    near: major + whole * minor,
    nearNext: major + (whole + 1) * minor,
    share: Math.max(0, slope - whole),
    step: at(steps),
    twice: at(2 * steps),
    thrice: at(3 * steps),
  }
}
