import { type PlanarGrid, planarGrid } from '#core/geodesy'
import type { PlanarArea, Polygon } from '#core/geometry'
import type { StoredArea, SurveyFile } from '#store'
import { ostn15 } from '#work'
import { groundOverlay } from './overlay.ts'
import { projectedPolygons } from './projecting.ts'

/** The grid the survey is worked in; null while nothing with a position has come in. */
export function surveyGrid(survey: SurveyFile): PlanarGrid | null {
  const { gridEpsg } = survey.identity()
  return gridEpsg === null ? null : planarGrid(gridEpsg, ostn15())
}

/** Polygons of an area in the survey's grid: as they were given or drawn where that was this grid, else from WGS84. */
export function planarPolygons(
  { given, polygons }: Pick<StoredArea, 'given' | 'polygons'>,
  grid: PlanarGrid,
): readonly Polygon[] {
  return given?.epsg === grid.epsg ? given.polygons : projectedPolygons(polygons, grid.forward)
}

const isWhole = ({ rings }: Polygon): boolean => !rings.some((ring) => ring.some(Number.isNaN))

/**
 * All search areas of a survey as one, in its grid, without the parts that are to be left alone. Polygons that the grid does
 * not wholly reach are left out. Faults: SurveyError('area-invalid') where an outline is too tangled to be cut.
 */
export async function searchGround(survey: SurveyFile, grid: PlanarGrid): Promise<PlanarArea> {
  const [ground, avoided] = [wholePolygons(survey, grid, ['search']), wholePolygons(survey, grid, ['no-go'])]
  const polygons = avoided.length === 0 ? ground : (await groundOverlay()).without(ground, avoided)
  return { epsg: grid.epsg, polygons }
}

/** Polygons of some areas of a survey that its grid wholly reaches. */
export function wholePolygons(
  survey: SurveyFile,
  grid: PlanarGrid,
  kinds: readonly StoredArea['kind'][],
): Polygon[] {
  return survey
    .areas()
    .filter(({ kind }) => kinds.includes(kind))
    .flatMap((area) => planarPolygons(area, grid))
    .filter(isWhole)
}
