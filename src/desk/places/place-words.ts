import type { PlaceView, SurveyGridView } from '#contract'
import { type Fact, gridNumber, latLonText, lengthText, plainPair } from '#ui'

const plainSpaces = (text: string): string => text.replaceAll('\u202f', ' ')

/** What a place is called in a line: its reference where there is one, else latitude and longitude. */
export function placeName(place: PlaceView): string {
  return place.gridRef ?? latLonText(place.lat, place.lon)
}

/** A length with no more than it is known to: 100 m, 0.7 m, 11 km. In metres. */
function roughText(metres: number): string {
  if (metres < 0.1) return 'less than 0.1\u202fm'
  return lengthText(metres).replace(/\.0+(?=\u202f)/, '')
}

/** What the text leaves open. */
export function openText({ square, precisionM, accuracyM }: PlaceView): string {
  if (square === null) return `within ${roughText(accuracyM)}, as it is written`
  const side = roughText(precisionM)
  return `a square of ${side}; the figures are of its middle, ${roughText(accuracyM)} from its corners`
}

/** A place in every notation, as its card shows it and as it is copied. */
export function placeFacts(place: PlaceView): Fact[] {
  const { gridRef, easting, northing, lat, lon, dms, utm, mgrs } = place
  const facts: Fact[] = []
  if (gridRef !== null) facts.push({ name: 'Grid reference', value: gridRef, copy: gridRef })
  if (easting !== null && northing !== null) {
    const digits = place.precisionM < 5 ? 1 : 0
    const value = `${gridNumber(easting, digits)} E, ${gridNumber(northing, digits)} N`
    facts.push({ name: 'Grid', value, copy: plainPair(easting, northing, digits) })
  }
  const degrees = latLonText(lat, lon)
  facts.push(
    { name: 'WGS84', value: degrees, copy: degrees },
    { name: 'Degrees', value: dms, copy: dms },
    { name: 'UTM', value: utm, copy: utm },
    { name: 'MGRS', value: mgrs, copy: mgrs },
    { name: 'Accuracy', value: openText(place) },
  )
  return facts.map((fact) => (fact.copy === undefined ? fact : { ...fact, copy: plainSpaces(fact.copy) }))
}

/** The sentence where the survey's grid does not reach a place, else null. */
export function outsideText(place: PlaceView, grid: SurveyGridView | null): string | null {
  if (place.easting !== null || grid === null) return null
  return `This place lies outside the survey’s grid, ${grid.name}, so the map stays where it is. Ground there needs a survey of its own.`
}
