import { SurveyError } from '#core/faults'
import { planarGrid } from '#core/geodesy'
import type { PlanarArea } from '#core/geometry'
import type { FileContent, RecordedArea, RecordedTrack } from '#core/record'
import { ostn15 } from '#work'
import { groundOverlay } from './overlay.ts'
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

const toBeLeftAlone = ({ attributes }: RecordedArea): boolean => attributes.kind === 'no-go'

/** A sentence on what of a file's areas is no ground to be searched; none where all is. */
export function leftOutOf({ areas }: FileContent): string[] {
  const names = areas.filter(toBeLeftAlone).map(({ name }) => name ?? 'an area without a name')
  return names.length === 0 ? [] : [`Left out, as ground to be left alone: ${names.join(', ')}.`]
}

/**
 * The search area that a file holds, in the grid of the place: its polygons without those to be left alone, else its lines or the points of a table as outlines.
 * Faults: SurveyError('no-area') with the file's name.
 */
export async function groundOf(file: string, content: FileContent): Promise<PlanarArea> {
  const outlines = [...content.tracks, ...cornersOf(content)]
    .filter(({ xy }) => xy.length >= 6)
    .map(outlineOf)
  const areas = content.areas.length > 0 ? content.areas : outlines
  const grid = gridOfContent({ ...content, areas, tracks: [], findspots: [] })
  if (grid === null)
    throw new SurveyError('no-area', `${file} holds no polygon, so there is no search area to work in.`)
  const planar = (area: RecordedArea): PlanarArea['polygons'] => {
    if (area.epsg === grid.epsg) return area.polygons
    const lonLat =
      area.epsg === 4326
        ? area.polygons
        : projectedPolygons(area.polygons, planarGrid(area.epsg, ostn15()).inverse)
    return projectedPolygons(lonLat, grid.forward)
  }
  const [alone, whole] = [areas.filter(toBeLeftAlone), areas.filter((area) => !toBeLeftAlone(area))]
  const polygons = whole.flatMap(planar)
  if (alone.length === 0) return { epsg: grid.epsg, polygons }
  const left = (await groundOverlay()).without(polygons, alone.flatMap(planar))
  if (left.length > 0) return { epsg: grid.epsg, polygons: left }
  throw new SurveyError('no-area', `${file} holds no ground to be searched: all of it is to be left alone.`)
}
