import type { AreaView, FindspotView, GapView, TrackView } from '#contract'
import { formatGridRef, type PlanarGrid } from '#core/geodesy'
import { type Polygon, polygonArea } from '#core/geometry'
import type { StoredArea, StoredFindspot, StoredGap, StoredTrackRow, SurveyFile } from '#store'
import { planarPolygons } from './ground.ts'
import { projected, projectedPolygons } from './projecting.ts'

export const isoTime = (seconds: number | null): string | null =>
  seconds === null ? null : new Date(seconds * 1000).toISOString()

/** Polygons as nested pairs, rings closed. */
export function nested(polygons: readonly Polygon[]): [number, number][][][] {
  return polygons.map(({ rings }) =>
    rings.map((ring) => Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i]!, ring[2 * i + 1]!])),
  )
}

/** Polygons from nested pairs; rings that are not closed are closed. */
export function flatPolygons(
  polygons: readonly (readonly (readonly (readonly [number, number])[])[])[],
): Polygon[] {
  return polygons.map((rings) => ({
    rings: rings.map((ring) => {
      const [first, last] = [ring[0]!, ring.at(-1)!]
      const closed = first[0] === last[0] && first[1] === last[1]
      return Float64Array.from((closed ? ring : [...ring, first]).flat())
    }),
  }))
}

export function areaView(area: StoredArea, grid: PlanarGrid): AreaView {
  const polygons = planarPolygons(area, grid)
  return {
    id: area.id,
    name: area.name ?? `Area ${area.id}`,
    kind: area.kind,
    areaM2: polygons.reduce((sum, polygon) => sum + polygonArea(polygon), 0),
    polygons: nested(polygons),
  }
}

export function trackView(track: StoredTrackRow): TrackView {
  return {
    id: track.id,
    name: track.name ?? `Track ${track.id}`,
    walked: track.walked,
    fixes: track.fixes,
    start: isoTime(track.start),
    end: isoTime(track.end),
    sourceFile: track.originalName,
  }
}

export function gapView(gap: StoredGap, grid: PlanarGrid): GapView {
  return { id: gap.id, areaM2: gap.areaM2, polygons: nested(projectedPolygons([gap.polygon], grid.forward)) }
}

/** A National Grid reference no finer than the accuracy: ten figures (1 m) up to 5 m, eight up to 50 m, six up to 500 m. */
export function honestGridRef(easting: number, northing: number, accuracyM: number | null): string {
  const digits = accuracyM === null || accuracyM <= 5 ? 10 : accuracyM <= 50 ? 8 : accuracyM <= 500 ? 6 : 4
  return formatGridRef(easting, northing, digits)
}

/** The National Grid reference of a place; null in other grids. */
export function gridRefOf(
  { epsg }: PlanarGrid,
  easting: number,
  northing: number,
  accuracyM: number | null,
): string | null {
  return epsg === 27_700 ? honestGridRef(easting, northing, accuracyM) : null
}

/** Easting and northing of a findspot in the survey's grid; null where the grid does not reach it. */
export function planarFindspot(
  findspot: Pick<StoredFindspot, 'planar' | 'lon' | 'lat'>,
  grid: PlanarGrid,
): [easting: number, northing: number] | null {
  const { planar } = findspot
  if (planar?.epsg === grid.epsg) return [planar.easting, planar.northing]
  const [easting, northing] = projected(Float64Array.of(findspot.lon, findspot.lat), grid.forward)
  return Number.isNaN(easting) ? null : [easting!, northing!]
}

/** Findspots that the grid reaches. */
export function findspotViews(survey: SurveyFile, grid: PlanarGrid): FindspotView[] {
  return survey.findspots().flatMap((findspot): FindspotView[] => {
    const planar = planarFindspot(findspot, grid)
    if (planar === null) return []
    const [easting, northing] = planar
    const { id, name, lon, lat, accuracyM, time, note, finds } = findspot
    return [
      {
        id,
        name: name ?? finds[0]?.number ?? `Findspot ${id}`,
        easting,
        northing,
        lat,
        lon,
        gridRef: gridRefOf(grid, easting, northing, accuracyM),
        accuracyM,
        time: isoTime(time),
        note,
        finds: finds.map(({ number, object, material, period, count, weightG, depthM }) => ({
          number,
          object,
          material,
          period,
          count,
          weightG,
          depthM,
        })),
      },
    ]
  })
}
