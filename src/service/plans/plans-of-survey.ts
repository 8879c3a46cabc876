import path from 'node:path'
import {
  type BearingFound,
  type BearingWishes,
  laneFiguresShape,
  type NameLimitsGiven,
  type NewPlan,
  nameLimitsShape,
  type PackWishesGiven,
  type Plan,
  type PlanLight,
  type PlannedLane,
  type PlanPreview,
  type PlanWishes,
  type PlanWishesGiven,
  packWishesShape,
  planWishesShape,
} from '#contract'
import { SurveyError } from '#core/faults'
import type { PlanarGrid } from '#core/geodesy'
import type { PlanarArea } from '#core/geometry'
import { dayLight, daylightLeft } from '#core/light'
import { writeGpx } from '#formats/gpx'
import type { StoredArea, StoredPlan, SurveyFile } from '#store'
import type { MadeFile } from '../desk-service.ts'
import { surveyGrid, wholePolygons } from '../ground.ts'
import { laneClashes } from '../land/land-clashes.ts'
import { dayOf } from '../land/permission-state.ts'
import { lightOn } from '../lanes.ts'
import type { LayersOfSurvey } from '../layers/layers-of-survey.ts'
import { projected } from '../projecting.ts'
import { surroundings } from '../surroundings.ts'
import { isoTime } from '../views.ts'
import { bearingRaster } from './bearing-raster.ts'
import { packPictures } from './pack-pictures.ts'
import { laneTracks, planTargets } from './plan-export.ts'
import { boundsOfPlan, planGround } from './plan-ground.ts'
import { planLanes } from './plan-lanes.ts'
import { leaveFor } from './plan-leave.ts'
import type { PlanService } from './plan-service.ts'
import { keptLanes, laneFacts, plannedLanes, plannedWays } from './planned-lanes.ts'
import { contour, ploughLines } from './read-bearing.ts'
import { walkPackOf } from './walk-pack.ts'
import { walkSheetOf } from './walk-sheet.ts'

export interface PlansParts {
  readonly layers: Pick<LayersOfSurvey, 'list' | 'ground' | 'heights' | 'whole'>
  /** Called after a change of the survey. */
  readonly changed: () => void
}

/** Plans of one open survey. What each method does is said at `PlanService`. */
export class PlansOfSurvey implements PlanService {
  readonly #survey: SurveyFile
  readonly #parts: PlansParts

  constructor(survey: SurveyFile, parts: PlansParts) {
    this.#survey = survey
    this.#parts = parts
  }

  preview(given: PlanWishesGiven, signal?: AbortSignal): Promise<PlanPreview> {
    return this.#plan(planWishesShape.parse(given), signal)
  }

  async bearing({ areaId, layerId, by }: BearingWishes, signal?: AbortSignal): Promise<BearingFound> {
    const grid = this.#grid()
    const avoid = { keepClearM: 0, overHazards: false }
    const { ground } = await planGround(this.#survey, grid, this.#area(areaId), avoid)
    const raster = bearingRaster(this.#parts.layers, layerId, by, signal)
    return by === 'plough' ? ploughLines(ground, raster, signal) : contour(ground, raster)
  }

  list(): Plan[] {
    return this.#survey.land.plans().map((plan) => this.#view(plan))
  }

  lanes(id: number): PlannedLane[] {
    const grid = this.#grid()
    this.#survey.land.plan(id)
    return keptLanes(this.#survey.land.lanes(id), grid)
  }

  async keep({ name, wishes: given }: NewPlan): Promise<Plan> {
    const wishes = planWishesShape.parse(given)
    const grid = this.#grid()
    const { figures, lanes, clashes } = await this.#plan(wishes)
    const area = this.#area(wishes.areaId)
    const facts = {
      name,
      areaId: area.id,
      areaName: area.name ?? `Area ${area.id}`,
      settings: wishes,
      figures,
      clashes: clashes.map(({ text }) => text),
    }
    const plan = this.#survey.land.keepPlan(facts, laneFacts(lanes, grid))
    this.#parts.changed()
    return this.#view(plan)
  }

  rename(id: number, name: string): Plan {
    const plan = this.#survey.land.renamePlan(id, name)
    this.#parts.changed()
    return this.#view(plan)
  }

  remove(id: number): void {
    this.#survey.land.removePlan(id)
    this.#parts.changed()
  }

  light(day: string | null): PlanLight {
    const grid = surveyGrid(this.#survey)
    const polygons = grid ? wholePolygons(this.#survey, grid, ['search']) : []
    if (!grid || polygons.length === 0) {
      const sentence = 'The survey has no search area yet, so there is no place to tell the light of.'
      throw new SurveyError('no-area', sentence)
    }
    return this.#light(day, { epsg: grid.epsg, polygons }, grid, 0)
  }

  handheld(id: number, names: NameLimitsGiven): MadeFile {
    const limits = nameLimitsShape.parse(names)
    const plan = this.#survey.land.plan(id)
    const tracks = laneTracks(this.#survey, plan, limits)
    const findspots = planTargets(this.#survey, limits)
    const text = writeGpx(
      { areas: [], findspots, tracks: tracks.lanes },
      { title: plan.name, plannedTracks: tracks.walks },
    )
    const stem = path.basename(this.#survey.path, path.extname(this.#survey.path))
    return {
      fileName: `${stem}-plan-${id}.gpx`,
      mediaType: 'application/gpx+xml',
      bytes: new TextEncoder().encode(text),
      features: tracks.lanes.length + findspots.length,
    }
  }

  async pack(id: number, given: PackWishesGiven = {}, signal?: AbortSignal): Promise<MadeFile> {
    const wishes = packWishesShape.parse(given)
    const grid = this.#grid()
    const ground = boundsOfPlan(this.#survey, this.#survey.land.plan(id), grid)
    const pictures = await packPictures(this.#parts.layers, grid, ground, wishes, signal)
    return walkPackOf(this.#survey, id, pictures)
  }

  sheet(id: number): Promise<MadeFile> {
    return walkSheetOf(this.#survey, id)
  }

  async #plan(wishes: PlanWishes, signal?: AbortSignal): Promise<PlanPreview> {
    const grid = this.#grid()
    const area = this.#area(wishes.areaId)
    const { ground, cut, notes } = await planGround(this.#survey, grid, area, wishes)
    const made = await planLanes(ground, grid, wishes, signal)
    const lanes = plannedLanes(made)
    const several = made.shares.length > 1
    const named = lanes.map(({ walker, number, xy }) => ({
      name: several ? `Lane ${number} of walker ${walker}` : `Lane ${number}`,
      xy: Float64Array.from(xy),
    }))
    const figures = { ...made.figures, notes: [...notes, ...made.figures.notes] }
    return {
      figures,
      lanes,
      ways: plannedWays(made),
      light: this.#light(wishes.day, ground, grid, figures.hours),
      clashes: laneClashes(this.#survey, grid, named, cut),
      leave: leaveFor(area, this.#survey.land.permissions(), wishes.day ?? dayOf(surroundings.now())),
    }
  }

  #light(day: string | null, ground: PlanarArea, grid: PlanarGrid, hours: number): PlanLight {
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

  #view(plan: StoredPlan): Plan {
    const { id, name, areaId, areaName, settings, figures, clashes, madeAt } = plan
    return {
      id,
      name,
      areaId,
      areaName,
      wishes: planWishesShape.safeParse(settings).data ?? null,
      figures: laneFiguresShape.safeParse(figures).data ?? null,
      clashes: [...clashes],
      lanes: this.#survey.land.lanes(id).length,
      madeAt: isoTime(madeAt),
    }
  }

  #area(id: number): StoredArea {
    const area = this.#survey.areas().find((each) => each.id === id)
    if (!area)
      throw new SurveyError('not-found', `There is no area ${id} in the survey; it may have been removed.`)
    if (area.kind === 'search') return area
    const sentence = `${area.name ?? `Area ${id}`} is not ground to be searched; choose a search area.`
    throw new SurveyError('no-area', sentence)
  }

  #grid(): PlanarGrid {
    const grid = surveyGrid(this.#survey)
    if (grid) return grid
    throw new SurveyError('no-area', 'The survey has no search area yet: draw one, or bring one in.')
  }
}
