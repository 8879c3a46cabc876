import {
  laneFiguresShape,
  type NewPlan,
  type Plan,
  type PlanLight,
  type PlanPreview,
  type PlanWishes,
  planWishesShape,
} from '#contract'
import { SurveyError } from '#core/faults'
import type { PlanarGrid } from '#core/geodesy'
import type { PlanarArea } from '#core/geometry'
import { dayLight, daylightLeft } from '#core/light'
import type { StoredArea, StoredPlan, SurveyFile } from '#store'
import { surveyGrid } from '../ground.ts'
import { keptLaneClashes, laneClashes } from '../land/land-clashes.ts'
import { dayOf } from '../land/permission-state.ts'
import { lightOn } from '../lanes.ts'
import { projected } from '../projecting.ts'
import { surroundings } from '../surroundings.ts'
import { isoTime } from '../views.ts'
import { planGround } from './plan-ground.ts'
import { planLanes } from './plan-lanes.ts'
import { leaveFor } from './plan-leave.ts'
import { keptLanes, laneFacts, plannedLanes, plannedWays, waysToKeep } from './planned-lanes.ts'

/** The grid of a survey in which plans can be made. Faults: SurveyError('no-area') while it has none. */
export function gridForPlans(survey: SurveyFile): PlanarGrid {
  const grid = surveyGrid(survey)
  if (grid) return grid
  throw new SurveyError('no-area', 'The survey has no search area yet: draw one, or bring one in.')
}

/** An area that lanes can be laid over. Faults: SurveyError 'not-found', 'no-area'. */
export function areaToSearch(survey: SurveyFile, id: number): StoredArea {
  const area = survey.areas().find((each) => each.id === id)
  if (!area)
    throw new SurveyError('not-found', `There is no area ${id} in the survey; it may have been removed.`)
  if (area.kind === 'search') return area
  const sentence = `${area.name ?? `Area ${id}`} is not ground to be searched; choose a search area.`
  throw new SurveyError('no-area', sentence)
}

/** The light of a day (null: today) at some ground, and whether so many hours fit into it. */
export function lightAt(day: string | null, ground: PlanarArea, grid: PlanarGrid, hours: number): PlanLight {
  const now = surroundings.now()
  const today = dayOf(now)
  const light = lightOn(day ?? today, ground, grid, hours)
  if ((day ?? today) !== today) return { ...light, leftHours: null }
  const place = Float64Array.from(ground.polygons[0]!.rings[0]!.subarray(0, 2))
  const [lon, lat] = projected(place, grid.inverse)
  const { civilS } = daylightLeft(
    now.getTime() / 1000,
    dayLight(Date.parse(`${today}T00:00:00Z`) / 1000, lon!, lat!),
  )
  return { ...light, leftHours: civilS === null ? null : civilS / 3600 }
}

/** Lanes of a search area as they are wished for, with all that is to be known of them; nothing is kept. Faults: those of `PlanService.preview`. */
export async function workOutPlan(
  survey: SurveyFile,
  wishes: PlanWishes,
  signal?: AbortSignal,
): Promise<PlanPreview> {
  const grid = gridForPlans(survey)
  const area = areaToSearch(survey, wishes.areaId)
  const { ground, cut, notes } = await planGround(survey, grid, area, wishes)
  const made = await planLanes(ground, grid, wishes, signal)
  const lanes = plannedLanes(made)
  const figures = { ...made.figures, notes: [...notes, ...made.figures.notes] }
  return {
    figures,
    lanes,
    ways: plannedWays(made),
    light: lightAt(wishes.day, ground, grid, figures.hours),
    clashes: laneClashes(survey, grid, lanes, cut),
    leave: leaveFor(area, survey.land.permissions(), wishes.day ?? dayOf(surroundings.now())),
  }
}

/** Works lanes out and keeps them with what they clash with. Faults as `workOutPlan`. */
export async function keepPlan(survey: SurveyFile, { name, wishes: given }: NewPlan): Promise<StoredPlan> {
  const wishes = planWishesShape.parse(given)
  const { figures, lanes, ways, clashes } = await workOutPlan(survey, wishes)
  const grid = gridForPlans(survey)
  const area = areaToSearch(survey, wishes.areaId)
  const facts = {
    name,
    areaId: area.id,
    areaName: area.name ?? `Area ${area.id}`,
    settings: wishes,
    figures: { ...figures, ways: waysToKeep(ways, grid) },
    clashes: clashes.map(({ text }) => text),
  }
  return survey.land.keepPlan(facts, laneFacts(lanes, grid))
}

/** What the lanes of a kept plan come too near to now: ground may have been put under guard since. */
export function clashesNow(survey: SurveyFile, { id, clashes }: StoredPlan): readonly string[] {
  const grid = surveyGrid(survey)
  if (grid === null) return clashes
  return keptLaneClashes(survey, grid, keptLanes(survey.land.lanes(id), grid)).map(({ text }) => text)
}

/** A kept plan as it is told. */
export function planView(survey: SurveyFile, plan: StoredPlan): Plan {
  const { id, name, areaId, areaName, settings, figures, madeAt } = plan
  return {
    id,
    name,
    areaId,
    areaName,
    wishes: planWishesShape.safeParse(settings).data ?? null,
    figures: laneFiguresShape.safeParse(figures).data ?? null,
    clashes: [...clashesNow(survey, plan)],
    lanes: survey.land.lanes(id).length,
    madeAt: isoTime(madeAt),
  }
}
