import type { LineView, PlaceView } from '#contract'
import { bearingText, lengthText, measuredText } from '#ui'

/** What is between a compass and the map: told for today by the model, or said not to be known. */
export function compassText(leg: LineView | null): string {
  if (!leg?.magnetic) return 'A compass shows magnetic north, which is not worked out here.'
  const { declination, model } = leg.magnetic
  const side = declination < 0 ? 'west' : 'east'
  const off = Math.abs(declination).toFixed(1)
  return `Magnetic north lies ${off}° ${side} of true north today by the model ${model}, good to about half a degree; iron nearby turns a compass further.`
}

const unknown = '–'

/** A length that may not be known yet. In metres. */
export function lengthOrDash(metres: number | null): string {
  return metres === null ? unknown : measuredText(metres)
}

/** Names of the fields for typed places. */
export function fieldName(index: number): string {
  return index === 0 ? 'From' : index === 1 ? 'To' : `Then to (${index + 1})`
}

/** Bearings of a leg from the three norths; dashes where it has none. */
export function bearingsOf(leg: LineView | null): Record<'grid' | 'true' | 'magnetic', string> {
  const told = (degrees: number | null | undefined): string =>
    degrees == null ? unknown : bearingText(degrees)
  return {
    grid: told(leg?.gridBearing),
    true: told(leg?.trueBearing),
    magnetic: told(leg?.magnetic?.bearing),
  }
}

/** How much references leave open of what is measured between them, in a sentence; null where all places are points. */
export function squaresText(places: readonly PlaceView[]): string | null {
  const largest = Math.max(0, ...places.map((place) => (place.square === null ? 0 : place.accuracyM)))
  if (largest === 0) return null
  return `Measured from the middles of the squares that the references name; each end may lie ${lengthText(largest)} off.`
}

/** What to do next, as the card says it. */
export function nextText(points: number, closed: boolean): string {
  if (closed) return 'A click on the map begins anew.'
  if (points === 0) return 'Click points on the map, one after another.'
  if (points < 3) return 'Click the next point. Backspace takes the last one back.'
  return 'Click the next point, or the first one to close the figure. Backspace takes the last one back.'
}
