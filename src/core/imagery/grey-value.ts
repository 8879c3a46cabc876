import type { Bands } from './bands.ts'
import { greenRedIndex, normalisedDifferenceIndex, visibleAtmosphericIndex } from './vegetation-index.ts'

/** One number made of a pixel's bands, which are counted from 0 here. */
export type GreyValue =
  | { readonly of: 'band'; readonly band: number }
  | { readonly of: 'component'; readonly weights: Float64Array }
  | { readonly of: 'green-red'; readonly green: number; readonly red: number }
  | {
      readonly of: 'visible-atmospheric'
      readonly green: number
      readonly red: number
      readonly blue: number
    }
  | { readonly of: 'ndvi'; readonly nearInfrared: number; readonly red: number }

/** The bands that a value is made of. */
export function greyBands(value: GreyValue, bandCount: number): number[] {
  switch (value.of) {
    case 'band':
      return [value.band]
    case 'component':
      return Array.from({ length: bandCount }, (_, band) => band)
    case 'green-red':
      return [value.green, value.red]
    case 'visible-atmospheric':
      return [value.green, value.red, value.blue]
    case 'ndvi':
      return [value.nearInfrared, value.red]
  }
}

/** The value of each pixel. Where it has none, it is 0 and the pixel's alpha is made 0. */
export function greyValues(image: Bands, value: GreyValue, alpha: Uint8Array): Float64Array {
  const out = new Float64Array(alpha.length)
  const valueAt = valueFunction(image, value)
  for (let i = 0; i < out.length; i++) {
    if (alpha[i] === 0) continue
    const here = valueAt(i)
    if (Number.isFinite(here)) out[i] = here
    else alpha[i] = 0
  }
  return out
}

function valueFunction({ bands }: Bands, value: GreyValue): (i: number) => number {
  switch (value.of) {
    case 'band': {
      const values = bands[value.band]!
      return (i) => values[i]!
    }
    case 'component': {
      const { weights } = value
      return (i) => {
        let sum = 0
        for (let band = 0; band < weights.length; band++) sum += weights[band]! * bands[band]![i]!
        return sum
      }
    }
    case 'green-red': {
      const [green, red] = [bands[value.green]!, bands[value.red]!]
      return (i) => greenRedIndex(green[i]!, red[i]!)
    }
    case 'visible-atmospheric': {
      const [green, red, blue] = [bands[value.green]!, bands[value.red]!, bands[value.blue]!]
      return (i) => visibleAtmosphericIndex(green[i]!, red[i]!, blue[i]!)
    }
    case 'ndvi': {
      const [infrared, red] = [bands[value.nearInfrared]!, bands[value.red]!]
      return (i) => normalisedDifferenceIndex(infrared[i]!, red[i]!)
    }
  }
}
