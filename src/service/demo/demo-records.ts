import type { Polygon } from '#core/geometry'
import type { RecordedArea, RecordedTrack } from '#core/record'
import type { DemoWalk } from './demo-survey.ts'
import { fieldEdge, type Place, pondEdge, scrapEdge, survey, toGrid } from './scenario.ts'

/** What the demo needs of a grid: easting, northing to longitude, latitude in degrees, interleaved. */
export interface InverseGrid {
  inverse(xy: Float64Array, out: Float64Array): void
}

const wgs84 = 4326

/** Longitude, latitude of places in the field's frame. */
export function lonLatOf(places: readonly Place[], grid: InverseGrid): Float64Array {
  const pairs = new Float64Array(2 * places.length)
  places.forEach((place, i) => {
    pairs.set(toGrid(place), 2 * i)
  })
  grid.inverse(pairs, pairs)
  return pairs
}

export function ringOf(places: readonly Place[], grid: InverseGrid): Float64Array {
  return lonLatOf([...places, places[0]!], grid)
}

/** The search area: the field without its pond, and the scrap beyond the lane. */
export function demoArea(grid: InverseGrid): RecordedArea {
  const field: Polygon = { rings: [ringOf(fieldEdge, grid), ringOf(pondEdge().toReversed(), grid)] }
  const scrap: Polygon = { rings: [ringOf(scrapEdge, grid)] }
  return {
    epsg: wgs84,
    name: survey.field,
    polygons: [field, scrap],
    attributes: {
      farm: survey.title,
      note: 'Invented. The place is open sea in the Wash; nobody’s land is meant. Pond: no search.',
    },
  }
}

/** One walk as recorded. */
export function demoTrack({ plan, walked }: DemoWalk, grid: InverseGrid): RecordedTrack {
  return {
    epsg: wgs84,
    name: plan.name,
    walked: true,
    xy: lonLatOf(walked.places, grid),
    segmentStart: Uint32Array.from(walked.segmentStart),
    time: Float64Array.from(walked.time),
    elevation: Float64Array.from(walked.height, (height) => Math.round(height * 10) / 10),
    hdop: null,
    extras: [],
    attributes: { desc: `Invented walk on ${survey.title}; the place is open sea in the Wash.` },
  }
}
