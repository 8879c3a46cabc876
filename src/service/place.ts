import type { FileFault } from '#core/faults'
import { gridFor, isPlanarGrid, type PlanarGrid, planarGrid } from '#core/geodesy'
import { type Bounds, boundsOf, emptyBounds, joinBounds, type PlanarArea, validateArea } from '#core/geometry'
import type { FileContent, RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'
import type { PlacedArea, PlacedContent, PlacedFindspot, PlacedTrack } from '#store'
import { ostn15 } from '#work'
import { projected, projectedPolygons } from './projecting.ts'

/** Content with every position in WGS84 and, beside it, in the survey's grid. */
export interface Placing {
  readonly placed: PlacedContent
  /** Null where nothing with a position came in. */
  readonly grid: PlanarGrid | null
  readonly faults: readonly FileFault[]
  /** In the survey's grid. */
  readonly bounds: Bounds | null
}

const wgs84 = 4326

/** First position of a file, with its system; null if it has none. */
function firstPosition({
  areas,
  findspots,
  tracks,
}: FileContent): { epsg: number; x: number; y: number } | null {
  for (const { epsg, polygons } of areas) {
    const ring = polygons[0]?.rings[0]
    if (ring && ring.length >= 2) return { epsg, x: ring[0]!, y: ring[1]! }
  }
  for (const { epsg, xy } of tracks) if (xy.length >= 2) return { epsg, x: xy[0]!, y: xy[1]! }
  for (const { epsg, x, y } of findspots) return { epsg, x, y }
  return null
}

/** The grid that a survey with this first content is worked in; null for content with no position. */
export function gridOfContent(content: FileContent): PlanarGrid | null {
  const first = firstPosition(content)
  if (first === null) return null
  const epsg = isPlanarGrid(first.epsg) ? first.epsg : gridFor(first.x, first.y, ostn15())
  return planarGrid(epsg, ostn15())
}

/**
 * Places what a file holds: planar positions get their WGS84 ones and the other way round, in `grid` (null: chosen by the
 * first position). A place that the grid does not reach is kept in WGS84 and told of; it cannot be worked with.
 * Cost: about a microsecond a position, twice that for files in planar coordinates.
 */
export function placeContent(content: FileContent, surveyGrid: PlanarGrid | null): Placing {
  const grid = surveyGrid ?? gridOfContent(content)
  if (grid === null)
    return { placed: { tracks: [], areas: [], findspots: [] }, grid, faults: [], bounds: null }
  const outside: Record<PlacedKind, string[]> = { area: [], track: [], findspot: [] }
  let bounds = emptyBounds
  const look: Look = (xy, kind, name) => {
    bounds = joinBounds(bounds, boundsOf(xy))
    if (xy.some(Number.isNaN)) outside[kind].push(JSON.stringify(name ?? 'without a name'))
  }
  const areas = content.areas.map((area) => placeArea(area, grid, look))
  const tracks = content.tracks.map((track) => placeTrack(track, grid, look))
  const findspots = content.findspots.map((findspot) => placeFindspot(findspot, grid, look))
  const placed = { areas, tracks, findspots, gridEpsg: grid.epsg }
  const faults = [...areas.flatMap((area) => areaFaults(area, grid)), ...outsideFaults(outside, grid)]
  return { placed, grid, faults, bounds: bounds.minX <= bounds.maxX ? bounds : null }
}

type PlacedKind = 'area' | 'track' | 'findspot'
type Look = (xy: Float64Array, kind: PlacedKind, name: string | null) => void

/** Names that are told of one kind; more are counted only. */
const namesTold = 3

/** One fault for each kind of thing that the grid does not wholly reach. */
function outsideFaults(outside: Readonly<Record<PlacedKind, string[]>>, grid: PlanarGrid): FileFault[] {
  return (Object.entries(outside) as [PlacedKind, string[]][])
    .map(([kind, all]) => [kind, [...new Set(all)], all.length] as const)
    .filter(([, , count]) => count > 0)
    .map(([kind, names, count]) => {
      const more = names.length > namesTold ? ' and others' : ''
      const which = `${count} ${kind}${count === 1 ? '' : 's'} (${names.slice(0, namesTold).join(', ')}${more})`
      const text = `Partly or wholly outside ${grid.name}: ${which}. All is kept; what lies outside is not drawn or counted.`
      return { line: null, code: 'outside-grid', text }
    })
}

function placeTrack(track: RecordedTrack, grid: PlanarGrid, look: Look): PlacedTrack {
  if (track.epsg === wgs84) {
    look(projected(track.xy, grid.forward), 'track', track.name)
    return { recorded: track, given: null }
  }
  const lonLat = projected(track.xy, planarGrid(track.epsg, ostn15()).inverse)
  look(planarIn(grid, track.epsg, track.xy, lonLat), 'track', track.name)
  return { recorded: { ...track, epsg: wgs84, xy: lonLat }, given: { epsg: track.epsg, xy: track.xy } }
}

/** Planar positions in the survey's grid: as given where the file used that grid, else through WGS84. */
function planarIn(grid: PlanarGrid, epsg: number, xy: Float64Array, lonLat: Float64Array): Float64Array {
  return epsg === grid.epsg ? xy : projected(lonLat, grid.forward)
}

function placeArea(area: RecordedArea, grid: PlanarGrid, look: Look): PlacedArea {
  const given: PlanarArea | null = area.epsg === wgs84 ? null : { epsg: area.epsg, polygons: area.polygons }
  const source = given && planarGrid(given.epsg, ostn15())
  const polygons = source ? projectedPolygons(area.polygons, source.inverse) : area.polygons
  for (const { rings } of polygons)
    for (const ring of rings) look(projected(ring, grid.forward), 'area', area.name)
  return { recorded: { ...area, epsg: wgs84, polygons }, given }
}

/** Most flaws of one area that are told. */
const flawsTold = 5

/** An outline that crosses itself is kept, for inside and outside can still be told apart; the user is asked to mend it. */
function areaFaults({ recorded, given }: PlacedArea, grid: PlanarGrid): FileFault[] {
  const polygons =
    given?.epsg === grid.epsg ? given.polygons : projectedPolygons(recorded.polygons, grid.forward)
  return validateArea({ epsg: grid.epsg, polygons }, flawsTold).map(({ text }) => {
    const name = JSON.stringify(recorded.name ?? 'without a name')
    return {
      line: null,
      code: 'area-invalid',
      text: `Area ${name}: ${text} It is kept as it is; mend it on the map.`,
    }
  })
}

function placeFindspot(findspot: RecordedFindspot, grid: PlanarGrid, look: Look): PlacedFindspot {
  const given = Float64Array.of(findspot.x, findspot.y)
  const planarSource = findspot.epsg === wgs84 ? null : planarGrid(findspot.epsg, ostn15())
  const lonLat = planarSource ? projected(given, planarSource.inverse) : given
  const asGiven = findspot.epsg === grid.epsg
  const planar = asGiven ? given : projected(lonLat, grid.forward)
  look(planar, 'findspot', findspot.name)
  const [x, y] = lonLat as unknown as [number, number]
  const [easting, northing] = planar as unknown as [number, number]
  const method = asGiven ? 'as given' : grid.method
  return {
    recorded: { ...findspot, epsg: wgs84, x, y },
    planar: Number.isNaN(easting) ? null : { epsg: grid.epsg, easting, northing, method },
  }
}
