import type { PlanWishes } from '#contract'
import { SurveyError } from '#core/faults'
import type { PlanarGrid } from '#core/geodesy'
import { type Bounds, boundsOf, emptyBounds, joinBounds, type PlanarArea, polygonArea } from '#core/geometry'
import type { StoredArea, StoredPlan, SurveyFile } from '#store'
import { planarPolygons } from '../ground.ts'
import { groundOverlay } from '../overlay.ts'
import { projected } from '../projecting.ts'

/** The ground that lanes are laid on. */
export interface PlanGround {
  readonly ground: PlanarArea
  /** Areas that were cut out of it. */
  readonly cut: ReadonlySet<number>
  readonly notes: readonly string[]
}

/** Less than this was not cut, it touched, square metres. */
const leastCutM2 = 0.01

const areaOf = (polygons: PlanarArea['polygons']): number =>
  polygons.reduce((sum, polygon) => sum + polygonArea(polygon), 0)

/**
 * A search area without the parts to be left alone and, unless wished otherwise, without its hazards, each with the ground to be kept clear about it.
 * Faults: SurveyError('no-area') where nothing is left, 'area-invalid' where an outline is too tangled to be cut.
 */
export async function planGround(
  survey: SurveyFile,
  grid: PlanarGrid,
  area: StoredArea,
  { keepClearM, overHazards }: Pick<PlanWishes, 'keepClearM' | 'overHazards'>,
): Promise<PlanGround> {
  const whole = planarPolygons(area, grid)
  const avoided = survey.areas().filter(({ kind }) => kind === 'no-go' || (kind === 'hazard' && !overHazards))
  if (avoided.length === 0) return { ground: { epsg: grid.epsg, polygons: whole }, cut: new Set(), notes: [] }
  const overlay = await groundOverlay()
  const cut = new Set<number>()
  const names: string[] = []
  let polygons = whole
  for (const part of avoided) {
    const own = planarPolygons(part, grid)
    const left = overlay.without(polygons, keepClearM > 0 ? overlay.grown(own, keepClearM) : own)
    cut.add(part.id)
    if (areaOf(polygons) - areaOf(left) < leastCutM2) continue
    polygons = left
    names.push(part.name ?? `area ${part.id}`)
  }
  const name = area.name ?? `Area ${area.id}`
  if (polygons.length === 0)
    throw new SurveyError('no-area', `${names.join(', ')} leaves nothing of ${name} to be searched.`)
  const cutM2 = areaOf(whole) - areaOf(polygons)
  const about = keepClearM > 0 ? ` and ${keepClearM} m about it` : ''
  const notes =
    names.length === 0
      ? []
      : [`Left out of ${name}: ${names.join(', ')}${about}, ${cutM2.toFixed(cutM2 < 10 ? 1 : 0)} m².`]
  return { ground: { epsg: grid.epsg, polygons }, cut, notes }
}

/** Bounds of a plan's search area, else of its lanes where the area is gone. Faults: SurveyError('nothing-to-export') where it has neither. */
export function boundsOfPlan(survey: SurveyFile, plan: StoredPlan, grid: PlanarGrid): Bounds {
  const area = survey.areas().find(({ id }) => id === plan.areaId)
  const lines = area
    ? planarPolygons(area, grid).flatMap(({ rings }) => rings)
    : survey.land.lanes(plan.id).map(({ xy }) => projected(xy, grid.forward))
  const bounds = lines.map(boundsOf).reduce(joinBounds, emptyBounds)
  if (bounds.minX <= bounds.maxX) return bounds
  throw new SurveyError('nothing-to-export', `The plan ${plan.name} has no lanes and its area is gone.`)
}
