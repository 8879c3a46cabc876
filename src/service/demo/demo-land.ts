import type { RecordedTrack } from '#core/record'
import { writeGeoJson } from '#formats/geojson'
import type { DemoFile } from './demo-files.ts'
import { type InverseGrid, lonLatOf, ringOf } from './demo-records.ts'
import { sett, survey, waterMain } from './scenario.ts'

/** Leave to search Ninestile Farm, invented as all of it is. */
export const demoPermission = {
  name: `Leave to search, ${survey.title}`,
  holder: 'Hester Quarrell (invented)',
  contact: 'At the farmhouse, evenings (invented)',
  startsOn: '2026-09-01',
  endsOn: '2029-08-31',
  terms: 'Stubble and bare ground only. Fill every hole. Not within sight of the house after dusk.',
  findsShare: 'Half each by value; the museum is asked first.',
  access: 'Gate at the south end of the lane: leave it shut. One car on the hard standing, not on the verge.',
} as const

export const demoGroundNotes = [
  { kind: 'crop', notedOn: '2026-09-10', note: 'Barley stubble, ankle high; straw baled and gone.' },
  { kind: 'ground', notedOn: '2026-09-19', note: 'Ploughed and rolled below the terrace; firm after rain.' },
  { kind: 'access', notedOn: '2026-10-04', note: 'Wheat goes in on 12 October: no walking from then on.' },
] as const

/** What of the land lies on the ground: a part to be left alone, as longitude and latitude. */
export function demoNoGo(grid: InverseGrid) {
  return { name: 'Badger sett', kind: 'no-go', polygons: [{ rings: [ringOf(sett, grid)] }] } as const
}

/** What the services are called, and the metres to keep clear of them. */
export const demoWaterMain = { kind: 'buried service', clearM: waterMain.clearM } as const

/** The layer of things to keep clear of, as the file that a water company might send. */
export function demoServices(grid: InverseGrid): DemoFile {
  const main: RecordedTrack = {
    epsg: 4326,
    name: 'Water main',
    walked: false,
    xy: lonLatOf(waterMain.line, grid),
    segmentStart: Uint32Array.of(0),
    time: null,
    elevation: null,
    hdop: null,
    extras: [],
    attributes: { note: 'Invented.' },
  }
  const text = writeGeoJson({ areas: [], tracks: [main], findspots: [] })
  return { name: 'ninestile-services.geojson', bytes: new TextEncoder().encode(text) }
}
