import { numberFrom } from '#ui'

type Place = [easting: number, northing: number]

/** Places as text, one a line, to a centimetre; of a closed outline without its last place, which is the first again. */
export function outlineText(places: readonly Place[], closed: boolean): string {
  const shown = closed ? places.slice(0, -1) : places
  return shown.map(([easting, northing]) => `${easting.toFixed(2)} ${northing.toFixed(2)}`).join('\n')
}

/** Places of a text, or one sentence that says what is wrong with it. Lines that hold nothing are passed over. */
export function placesFrom(
  text: string,
  fewest: number,
): { readonly places: Place[] } | { readonly fault: string } {
  const places: Place[] = []
  for (const [i, line] of text.split('\n').entries()) {
    if (line.trim() === '') continue
    const [easting, northing, ...more] = line
      .trim()
      .split(/[\s;]+|,\s*/)
      .map(numberFrom)
    if (easting == null || northing == null || more.length > 0) {
      return { fault: `Line ${i + 1} is not an easting and a northing, such as 558400 347400.` }
    }
    places.push([easting, northing])
  }
  return places.length < fewest ? { fault: `Give at least ${fewest} places.` } : { places }
}
