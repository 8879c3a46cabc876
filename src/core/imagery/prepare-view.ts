import { alphaOf, type Bands, checkBands, isByteBand } from './bands.ts'
import { type ColourMixing, componentWeights, decorrelation } from './decorrelation.ts'
import { type Equalisation, equalisation } from './equalisation.ts'
import { type GreyValue, greyBands, greyValues } from './grey-value.ts'
import { type BandColours, type ImageView, usualColours } from './image-view.ts'
import { type Surroundings, surroundings } from './local-contrast.ts'
import { brightnessOf, shownBands } from './luminance.ts'
import { percentileStretch, type Stretch } from './stretch.ts'
import { stretchedBrightness } from './stretched.ts'

/** Metres on the ground, where a view asks for a radius and none is given (our choice). */
const usualRadiusM = { equalised: 50, localContrast: 20 }

/**
 * Everything that painting a tile of one view needs beside the tile: plain values and typed arrays, which structured cloning copies. How
 * much: some hundred bytes; for `equalised` 1 KiB a region, for `local-contrast` 8 bytes a node.
 */
export type PreparedView = { readonly bandCount: number } & (
  | { readonly paints: 'colours'; readonly stretches: readonly (Stretch | null)[] }
  | {
      readonly paints: 'equalised'
      readonly stretches: readonly (Stretch | null)[]
      readonly equalisation: Equalisation
    }
  | { readonly paints: 'mixed'; readonly mixing: ColourMixing }
  | { readonly paints: 'grey'; readonly value: GreyValue; readonly stretch: Stretch }
  | { readonly paints: 'local-contrast'; readonly surroundings: Surroundings }
)

export interface OverviewScale {
  /** Size of a pixel of the overview on the ground, metres. */
  readonly pixelM: number
  /** Which band is which colour; red, green, blue unless given. */
  readonly colours?: BandColours
}

/**
 * Takes the statistics of a view from a reduced overview of the whole image, so that any part of the image at any scale can be painted
 * alone and all parts agree.
 *
 * Shape   the overview has the bands of the image, of the same kind of number; some 1000 x 1000 pixels are plenty.
 * Views   `imageViewsFor` tells which an image can have. `as-is`: bytes untouched, wider numbers stretched band by band.
 * Source  docs/methods/imagery.md
 * Cost    some passes over the overview; for stretched views a sort of its values. About 0.1 s for a million pixels.
 * Faults  RangeError for a view that the bands do not allow, or a number that makes no sense.
 */
export function prepareView(
  overview: Bands,
  view: ImageView,
  { pixelM, colours }: OverviewScale,
): PreparedView {
  checkBands(overview)
  if (!(pixelM > 0)) throw new RangeError(`a pixel must be above 0 m, got ${pixelM}`)
  const bandCount = overview.bands.length
  switch (view.view) {
    case 'as-is':
      return { bandCount, paints: 'colours', stretches: stretchesOf(overview, view) }
    case 'equalised': {
      const stretches = stretchesOf(overview, view)
      const side = (2 * radiusOf(view, usualRadiusM.equalised)) / pixelM
      const alpha = alphaOf(overview, shownBands(overview))
      const brightness = stretchedBrightness(overview, stretches)
      return {
        bandCount,
        paints: 'equalised',
        stretches,
        equalisation: equalisation(brightness, alpha, overview, side),
      }
    }
    case 'decorrelated': {
      const alpha = alphaOf(overview, [...overview.bands.keys()])
      return { bandCount, paints: 'mixed', mixing: decorrelation(overview, alpha) }
    }
    case 'local-contrast': {
      const reach = Math.max(1, Math.round(radiusOf(view, usualRadiusM.localContrast) / pixelM))
      const alpha = alphaOf(overview, shownBands(overview))
      return {
        bandCount,
        paints: 'local-contrast',
        surroundings: surroundings(brightnessOf(overview), alpha, overview, reach),
      }
    }
    default: {
      const value = greyValueOf(overview, view, colours ?? usualColours(bandCount))
      const alpha = alphaOf(overview, greyBands(value, bandCount))
      const values = greyValues(overview, value, alpha)
      return { bandCount, paints: 'grey', value, stretch: percentileStretch(values, alpha, view.cutPercent) }
    }
  }
}

function radiusOf({ radiusM }: ImageView, usual: number): number {
  const radius = radiusM ?? usual
  if (!(radius > 0 && Number.isFinite(radius)))
    throw new RangeError(`a radius must be above 0 m, got ${radius}`)
  return radius
}

/** For each shown band: none for bytes. */
function stretchesOf(overview: Bands, view: ImageView): (Stretch | null)[] {
  return shownBands(overview).map((band) => {
    const values = overview.bands[band]!
    if (isByteBand(values)) return null
    return percentileStretch(values, alphaOf(overview, [band]), view.cutPercent)
  })
}

function greyValueOf(overview: Bands, view: ImageView, colours: BandColours): GreyValue {
  const bandCount = overview.bands.length
  const number = view.number ?? 1
  const band = (name: keyof BandColours): number => {
    const at = colours[name]
    if (at === null || !(Number.isInteger(at) && at >= 1 && at <= bandCount))
      throw new RangeError(`no band of this image is said to be ${name}`)
    return at - 1
  }
  switch (view.view) {
    case 'green-red':
      return { of: 'green-red', green: band('green'), red: band('red') }
    case 'visible-atmospheric':
      return { of: 'visible-atmospheric', green: band('green'), red: band('red'), blue: band('blue') }
    case 'ndvi':
      return { of: 'ndvi', nearInfrared: band('nearInfrared'), red: band('red') }
    case 'component': {
      const alpha = alphaOf(overview, [...overview.bands.keys()])
      return { of: 'component', weights: componentWeights(overview, alpha, number) }
    }
    default:
      if (!(Number.isInteger(number) && number >= 1 && number <= bandCount))
        throw new RangeError(`no band ${number} among ${bandCount}`)
      return { of: 'band', band: number - 1 }
  }
}
