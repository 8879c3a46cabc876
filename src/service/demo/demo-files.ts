import type { RecordedArea, RecordedTrack } from '#core/record'
import { demoArea, demoTrack, type InverseGrid } from './demo-records.ts'
import { demoSurvey } from './demo-survey.ts'
import { findsTable } from './finds-table.ts'

export interface DemoFile {
  readonly name: string
  readonly bytes: Uint8Array
}

/**
 * The demo survey as the files that a user would have brought: search area, two walks, finds. UTF-8 text; the same seed
 * and grid give the same bytes. About 3.4 MB; half a second.
 *
 * CRS     made in EPSG:27700; `grid` (that of EPSG 27700) takes it to WGS84 for GeoJSON and GPX.
 * Faults  RangeError for a seed that is not a whole number from 0 to 2^32 - 1.
 */
export function demoFiles(seed: number, grid: InverseGrid): DemoFile[] {
  const { walks, finds } = demoSurvey(seed)
  const file = (name: string, text: string): DemoFile => ({ name, bytes: new TextEncoder().encode(text) })
  return [
    file('ninestile-search-area.geojson', areaText(demoArea(grid))),
    ...walks.map((walk) => file(walk.plan.fileName, trackText(demoTrack(walk, grid)))),
    file('ninestile-finds.csv', findsTable(finds)),
  ]
}

/** Eight decimals of a degree: about a millimetre. */
const degrees = (value: number): string => value.toFixed(8)

/** RFC 7946: outer rings counter-clockwise, holes clockwise, as the scenario lays them. */
function areaText({ name, polygons, attributes }: RecordedArea): string {
  const coordinates = polygons.map(({ rings }) =>
    rings.map((ring) =>
      Array.from({ length: ring.length / 2 }, (_, i) => [
        Number(degrees(ring[2 * i]!)),
        Number(degrees(ring[2 * i + 1]!)),
      ]),
    ),
  )
  const geometry = { type: 'MultiPolygon', coordinates }
  const feature = { type: 'Feature', properties: { name, ...attributes }, geometry }
  return `${JSON.stringify({ type: 'FeatureCollection', features: [feature] }, null, 1)}\n`
}

/** GPX 1.1 as a receiver writes it. Nothing in the demo's words needs escaping in XML. */
function trackText({ name, xy, segmentStart, time, elevation, attributes }: RecordedTrack): string {
  const starts = [...segmentStart, xy.length / 2]
  const segments = starts.slice(1).map((end, s) => {
    const points = Array.from({ length: end - starts[s]! }, (_, k) => {
      const i = starts[s]! + k
      const at = `lat="${degrees(xy[2 * i + 1]!)}" lon="${degrees(xy[2 * i]!)}"`
      const when = new Date(time![i]! * 1000).toISOString().replace('.000Z', 'Z')
      return `<trkpt ${at}><ele>${elevation![i]!.toFixed(1)}</ele><time>${when}</time></trkpt>\n`
    })
    return `<trkseg>\n${points.join('')}</trkseg>\n`
  })
  return [
    '<?xml version="1.0" encoding="UTF-8"?>\n',
    '<gpx version="1.1" creator="Lynchet demo" xmlns="http://www.topografix.com/GPX/1/1">\n',
    `<trk>\n<name>${name}</name>\n<desc>${attributes.desc}</desc>\n`,
    ...segments,
    '</trk>\n</gpx>\n',
  ].join('')
}
