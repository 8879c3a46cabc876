import { SurveyError } from '#core/faults'
import { planarGrid } from '#core/geodesy'
import type { PlanarArea } from '#core/geometry'
import type { FileContent, RecordedArea, RecordedTrack } from '#core/record'
import { ostn15 } from '#work'
import { gridOfContent } from './place.ts'
import { projectedPolygons } from './projecting.ts'

/** A walked or planned line taken as the outline of an area, its ends joined: for files that know no polygons. */
function outlineOf({ xy, epsg, name, attributes }: ReturnType<typeof cornersOf>[number]): RecordedArea {
  const ring = new Float64Array(xy.length + 2)
  ring.set(xy)
  ring.set(xy.subarray(0, 2), xy.length)
  return { epsg, name, attributes, polygons: [{ rings: [ring] }] }
}

/** Points of a table, in their order, as one line: the corners of an outline. */
function cornersOf({ findspots }: FileContent): Pick<RecordedTrack, 'xy' | 'epsg' | 'name' | 'attributes'>[] {
  const [first] = findspots
  if (first === undefined || findspots.some(({ epsg }) => epsg !== first.epsg)) return []
  return [
    {
      epsg: first.epsg,
      xy: Float64Array.from(findspots.flatMap(({ x, y }) => [x, y])),
      name: null,
      attributes: {},
    },
  ]
}

/**
 * The search area that a file holds, in the grid of the place: its polygons, else its lines or the points of a table as outlines.
 * Faults: SurveyError('no-area') with the file's name.
 */
export function groundOf(file: string, content: FileContent): PlanarArea {
  const outlines = [...content.tracks, ...cornersOf(content)]
    .filter(({ xy }) => xy.length >= 6)
    .map(outlineOf)
  const areas = content.areas.length > 0 ? content.areas : outlines
  const grid = gridOfContent({ ...content, areas, tracks: [], findspots: [] })
  if (grid === null)
    throw new SurveyError('no-area', `${file} holds no polygon, so there is no search area to work in.`)
  const polygons = areas.flatMap((area) => {
    if (area.epsg === grid.epsg) return area.polygons
    const lonLat =
      area.epsg === 4326
        ? area.polygons
        : projectedPolygons(area.polygons, planarGrid(area.epsg, ostn15()).inverse)
    return projectedPolygons(lonLat, grid.forward)
  })
  return { epsg: grid.epsg, polygons }
}
