import type { ExportFormat } from '#contract'
import type { PlanarGrid } from '#core/geodesy'
import { type PlanarColumns, writeCsv } from '#formats/csv'
import { writeGeoJson } from '#formats/geojson'
import { writeGpx } from '#formats/gpx'
import { writeKml } from '#formats/kml'
import type { ExportContent } from './export-content.ts'

function planarColumns(grid: PlanarGrid): PlanarColumns {
  const pair = new Float64Array(2)
  return {
    epsg: grid.epsg,
    of: (lon, lat) => {
      pair.set([lon, lat])
      grid.forward(pair, pair)
      return [pair[0]!, pair[1]!]
    },
  }
}

/** Content as the text of a file; a table also gets the eastings and northings of `grid`. */
export function textOf(
  content: ExportContent,
  format: ExportFormat,
  title: string,
  grid: PlanarGrid | null,
): string {
  switch (format) {
    case 'gpx':
      return writeGpx(content, { title, plannedTracks: content.plannedTracks ?? [] })
    case 'kml':
      return writeKml(content, { title })
    case 'geojson':
      return writeGeoJson(content)
    case 'csv':
      return writeCsv(content, grid ? { planar: planarColumns(grid) } : {})
  }
}
