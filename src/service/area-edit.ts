import type { AreaEdit } from '#contract'
import { SurveyError } from '#core/faults'
import type { PlanarGrid } from '#core/geodesy'
import { type PlanarArea, validateArea } from '#core/geometry'
import type { AreaEdit as StoredAreaEdit } from '#store'
import { projectedPolygons } from './projecting.ts'
import { flatPolygons } from './views.ts'

/** Faults: SurveyError('area-invalid') with the first flaw, where a drawn outline crosses itself or encloses nothing. */
function refuseFlawed(area: PlanarArea): void {
  const [flaw] = validateArea(area, 1)
  if (flaw) throw new SurveyError('area-invalid', `${flaw.text} Move a corner so that it does not.`)
}

/** A drawn area made ready to be stored: checked, with WGS84 beside the drawn coordinates. Faults: 'area-invalid', 'outside-grid'. */
export function storedArea({ name, kind, polygons }: AreaEdit, grid: PlanarGrid): StoredAreaEdit {
  const given = { epsg: grid.epsg, polygons: flatPolygons(polygons) }
  refuseFlawed(given)
  const lonLat = projectedPolygons(given.polygons, grid.inverse)
  if (lonLat.some(({ rings }) => rings.some((ring) => ring.some(Number.isNaN)))) {
    throw new SurveyError('outside-grid', `The outline reaches outside ${grid.name}; keep it within.`)
  }
  return { name, ...(kind === undefined ? {} : { kind }), polygons: lonLat, given }
}
