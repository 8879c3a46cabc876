/** Ways to look at an image. */
export type ImageViewName =
  | 'as-is'
  | 'equalised'
  | 'decorrelated'
  | 'green-red'
  | 'visible-atmospheric'
  | 'ndvi'
  | 'band'
  | 'component'
  | 'local-contrast'

/** How an image is looked at. What a view does not use is not read. */
export interface ImageView {
  readonly view: ImageViewName
  /** `band`: which; `component`: which, the one of the greatest variance first. Counted from 1, 1 unless given. */
  readonly number?: number | undefined
  /** `equalised`, `local-contrast`: how far round a pixel is looked, metres on the ground. */
  readonly radiusM?: number | undefined
  /** Percent cut off at either end where values are stretched to grey; 2 unless given. */
  readonly cutPercent?: number | undefined
}

/** Which band, counted from 1, is which colour; null for none. */
export interface BandColours {
  readonly red: number | null
  readonly green: number | null
  readonly blue: number | null
  readonly nearInfrared: number | null
}

/** The colours of an image of so many bands that says nothing about them: red, green, blue, and no near infrared. */
export function usualColours(bandCount: number): BandColours {
  return bandCount < 3
    ? { red: null, green: null, blue: null, nearInfrared: null }
    : { red: 1, green: 2, blue: 3, nearInfrared: null }
}

/** The views that an image of so many bands can have, the usual one first. */
export function imageViewsFor(
  bandCount: number,
  colours: BandColours = usualColours(bandCount),
): ImageViewName[] {
  const { red, green, blue, nearInfrared } = colours
  const views: ImageViewName[] = ['as-is', 'equalised']
  if (bandCount >= 3) views.push('decorrelated')
  if (red && green) views.push('green-red')
  if (red && green && blue) views.push('visible-atmospheric')
  if (red && nearInfrared) views.push('ndvi')
  if (bandCount >= 2) views.push('band', 'component')
  views.push('local-contrast')
  return views
}
