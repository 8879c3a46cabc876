import { SurveyError } from '#core/faults'
import { type PlanarArea, polygonArea, validateArea } from '#core/geometry'
import type { AreaRows } from './area-rows.ts'

/** The area in square metres, exact where the outline is sound. Faults: SurveyError('area-invalid', 'setting-out-of-range'). */
export function soundArea(
  area: PlanarArea,
  { cells, sharedCells }: AreaRows,
  cellM: number,
): { areaM2: number; areaNotes: string[] } {
  const polygonM2 = area.polygons.reduce((sum, polygon) => sum + polygonArea(polygon), 0)
  const cellsM2 = cells * cellM * cellM
  if (cells === 0 && !(Math.abs(polygonM2) > 0))
    throw new SurveyError('area-invalid', 'The outline of the search area encloses no ground. Draw it anew.')
  if (cells === 0)
    throw new SurveyError(
      'setting-out-of-range',
      `Cells of ${cellM} m are too coarse for this area: not one has its centre inside. Use a finer cell.`,
    )
  const areaNotes = validateArea(area, 5)
    .filter((flaw) => flaw.kind !== 'parts-overlap')
    .map((flaw) => `${flaw.text} What lies inside was decided by the even-odd rule.`)
  if (sharedCells > 0)
    areaNotes.push('Parts of the search area overlap; ground that lies in several was counted once.')
  // The centres of cells miss the true area by no more than the cells on the outline: a larger difference is a flaw too.
  const outlineM = area.polygons.reduce(
    (sum, { rings }) => sum + rings.reduce((all, ring) => all + lengthOf(ring), 0),
    0,
  )
  const asDrawn = areaNotes.length === 0 && Math.abs(polygonM2 - cellsM2) <= outlineM * cellM + cellM * cellM
  if (!asDrawn && areaNotes.length === 0)
    areaNotes.push('The rings of the search area do not lie inside each other as they should.')
  return { areaM2: asDrawn ? polygonM2 : cellsM2, areaNotes }
}

function lengthOf(ring: Float64Array): number {
  let length = 0
  for (let i = 0; i + 3 < ring.length; i += 2)
    length += Math.sqrt((ring[i + 2]! - ring[i]!) ** 2 + (ring[i + 3]! - ring[i + 1]!) ** 2)
  return length
}
