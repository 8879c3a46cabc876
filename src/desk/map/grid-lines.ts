import { roundStep } from '#ui'

/** Spacing of the grid drawn under the plan, metres. */
export interface GridSpacing {
  readonly main: number
  readonly fine: number
}

const leastMainPixels = 96

/** Main lines 1, 2 or 5 times a power of ten apart and at least 96 pixels; fine lines divide them by five or four. */
export function gridSpacing(metresPerPixel: number): GridSpacing {
  const main = roundStep(metresPerPixel * leastMainPixels)
  const lead = main / 10 ** Math.floor(Math.log10(main) + 1e-9)
  return { main, fine: main / (Math.round(lead) === 2 ? 4 : 5) }
}

/** Multiples of `step` from `low` to `high`. */
export function gridValues(low: number, high: number, step: number): number[] {
  const first = Math.ceil(low / step - 1e-9)
  const count = Math.floor(high / step + 1e-9) - first + 1
  return Array.from({ length: Math.max(0, count) }, (_, i) => (first + i) * step)
}
