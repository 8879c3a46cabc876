import type { AreaEdit } from '#contract'
import { SurveyError } from '#core/faults'
import type { PlanarGrid } from '#core/geodesy'
import { findRingCrossing, type Polygon, polygonArea } from '#core/geometry'
import type { AreaEdit as StoredAreaEdit } from '#store'
import { projectedPolygons } from './projecting.ts'
import { flatPolygons } from './views.ts'

/** Smallest area that can be meant, square metres. */
const least = 0.01

function refuseInvalid(polygon: Polygon): void {
  const crossing = findRingCrossing(polygon)
  if (crossing) {
    const [e, n] = crossing.map((value) => value.toFixed(1))
    throw new SurveyError('area-invalid', `The outline crosses itself near ${e} E, ${n} N; move a corner so that it does not.`)
  }
  if (!(polygonArea(polygon) >= least)) {
    throw new SurveyError('area-invalid', 'The outline encloses no ground; draw it with at least three corners apart.')
  }
}

/** A drawn area made ready to be stored: checked, with WGS84 beside the drawn coordinates. Faults: 'area-invalid', 'outside-grid'. */
export function storedArea({ name, polygons }: AreaEdit, grid: PlanarGrid): StoredAreaEdit {
  const given = flatPolygons(polygons)
  for (const polygon of given) refuseInvalid(polygon)
  const lonLat = projectedPolygons(given, grid.inverse)
  if (lonLat.some(({ rings }) => rings.some((ring) => ring.some(Number.isNaN)))) {
    throw new SurveyError('outside-grid', `The outline reaches outside ${grid.name}; keep it within.`)
  }
  return { name, polygons: lonLat, given: { epsg: grid.epsg, polygons: given } }
}
