import { gaussianRelief } from './gaussian-relief.ts'
import type { HorizonOptions } from './horizon.ts'
import { skyView } from './sky-view.ts'
import { percentileStretch, type Stretch } from './stretch.ts'
import type { Terrain } from './terrain.ts'

/** What is black and what is white in a blend, for the two pictures that it is made of. */
export interface BlendScale {
  /** Sky-view that counts as none and as all. */
  readonly sky: Stretch
  /** Local relief that counts as fully raised, metres; as much below counts as fully sunk. */
  readonly reliefM: number
}

const [skyLow, skyHigh] = [1, 99]
const [reliefLow, reliefHigh] = [2, 98]
/** Less than a millimetre is rounding, not relief, and is not drawn out. */
const leastReliefM = 0.001

/** The scale of a blend by the percentiles of both pictures; null where neither has a value. Cost: as `percentileStretch`. */
export function blendScale(sky: Float32Array, relief: Float32Array): BlendScale | null {
  const [seen, raised] = [
    percentileStretch(sky, skyLow, skyHigh),
    percentileStretch(relief, reliefLow, reliefHigh),
  ]
  if (seen === null || raised === null) return null
  return { sky: seen, reliefM: Math.max(leastReliefM, Math.abs(raised.low), Math.abs(raised.high)) }
}

/** Where a value lies in a range, 0 to 1; the middle where the range is none. NaN stays NaN. */
function share(value: number, low: number, high: number): number {
  if (!(high > low)) return Number.isNaN(value) ? value : 0.5
  const part = (value - low) / (high - low)
  return Math.min(1, Math.max(0, part))
}

/**
 * A grey picture for reading faint banks, from index `from` up to `to`: the root of the product of two shares, of sky-view between its
 * bounds and of local relief between as far sunk and as far raised as its own. Level ground is light grey, a bank lighter with a
 * dark foot, a ditch dark. 1 to 255, 0 where either has no value. The project's own definition.
 *
 * Cost    about 5 ns a cell.
 * Faults  RangeError where the sizes differ.
 */
export function blendToGrey(
  sky: Float32Array,
  relief: Float32Array,
  scale: BlendScale,
  out: Uint8Array,
  from = 0,
  to = out.length,
): void {
  if (sky.length !== out.length || relief.length !== out.length)
    throw new RangeError(`${sky.length} and ${relief.length} values, but room for ${out.length}`)
  const { sky: seen, reliefM } = scale
  for (let i = from; i < to; i++) {
    const grey = Math.sqrt(share(sky[i]!, seen.low, seen.high) * share(relief[i]!, -reliefM, reliefM))
    out[i] = Number.isNaN(grey) ? 0 : 1.5 + 254 * grey
  }
}

/**
 * The blend of a whole terrain: sky-view and bell-weighted local relief of one radius, see `blendToGrey`.
 * Cost and faults: those of `skyViewRows` and `gaussianReliefRows`.
 */
export function blend(terrain: Terrain, options: HorizonOptions): Uint8Array {
  const out = new Uint8Array(terrain.values.length)
  const sky = skyView(terrain, options)
  const relief = gaussianRelief(terrain, options)
  const scale = blendScale(sky, relief)
  if (scale !== null) blendToGrey(sky, relief, scale, out)
  return out
}
