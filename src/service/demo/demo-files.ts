import { writeGeoJson } from '#formats/geojson'
import { writeGpx } from '#formats/gpx'
import { demoArea, demoTrack, type InverseGrid } from './demo-records.ts'
import { demoSurvey } from './demo-survey.ts'
import { findsTable } from './finds-table.ts'

export interface DemoFile {
  readonly name: string
  readonly bytes: Uint8Array
}

const nothing = { areas: [], tracks: [], findspots: [] }

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
    file('ninestile-search-area.geojson', writeGeoJson({ ...nothing, areas: [demoArea(grid)] })),
    ...walks.map((walk) =>
      file(walk.plan.fileName, writeGpx({ ...nothing, tracks: [demoTrack(walk, grid)] })),
    ),
    file('ninestile-finds.csv', findsTable(finds)),
  ]
}
