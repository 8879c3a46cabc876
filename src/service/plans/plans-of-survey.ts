import path from 'node:path'
import {
  type BearingFound,
  type BearingWishes,
  type NameLimitsGiven,
  type NewPlan,
  nameLimitsShape,
  type PackWishesGiven,
  type Plan,
  type PlanLight,
  type PlannedLane,
  type PlanPreview,
  type PlanWishesGiven,
  packWishesShape,
  planWishesShape,
} from '#contract'
import { SurveyError } from '#core/faults'
import { writeGpx } from '#formats/gpx'
import type { SurveyFile } from '#store'
import type { MadeFile } from '../desk-service.ts'
import { surveyGrid, wholePolygons } from '../ground.ts'
import type { LayersOfSurvey } from '../layers/layers-of-survey.ts'
import { bearingRaster } from './bearing-raster.ts'
import { packPictures } from './pack-pictures.ts'
import { laneTracks, planTargets } from './plan-export.ts'
import { boundsOfPlan, planGround } from './plan-ground.ts'
import type { PlanService } from './plan-service.ts'
import { keptLanes } from './planned-lanes.ts'
import { contour, ploughLines } from './read-bearing.ts'
import { walkPackOf } from './walk-pack.ts'
import { walkSheetOf } from './walk-sheet.ts'
import { areaToSearch, gridForPlans, keepPlan, lightAt, planView, workOutPlan } from './work-out-plan.ts'

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
    return workOutPlan(this.#survey, planWishesShape.parse(given), signal)
  }

  async bearing({ areaId, layerId, by }: BearingWishes, signal?: AbortSignal): Promise<BearingFound> {
    const grid = gridForPlans(this.#survey)
    const avoid = { keepClearM: 0, overHazards: false }
    const { ground } = await planGround(this.#survey, grid, areaToSearch(this.#survey, areaId), avoid)
    const raster = bearingRaster(this.#parts.layers, layerId, by, signal)
    return by === 'plough' ? ploughLines(ground, raster, signal) : contour(ground, raster)
  }

  list(): Plan[] {
    return this.#survey.land.plans().map((plan) => planView(this.#survey, plan))
  }

  lanes(id: number): PlannedLane[] {
    const grid = gridForPlans(this.#survey)
    this.#survey.land.plan(id)
    return keptLanes(this.#survey.land.lanes(id), grid)
  }

  async keep(given: NewPlan): Promise<Plan> {
    const plan = await keepPlan(this.#survey, given)
    this.#parts.changed()
    return planView(this.#survey, plan)
  }

  rename(id: number, name: string): Plan {
    const plan = this.#survey.land.renamePlan(id, name)
    this.#parts.changed()
    return planView(this.#survey, plan)
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
    return lightAt(day, { epsg: grid.epsg, polygons }, grid, 0)
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
    const grid = gridForPlans(this.#survey)
    const ground = boundsOfPlan(this.#survey, this.#survey.land.plan(id), grid)
    const pictures = await packPictures(this.#parts.layers, grid, ground, wishes, signal)
    return walkPackOf(this.#survey, id, pictures)
  }

  sheet(id: number): Promise<MadeFile> {
    return walkSheetOf(this.#survey, id)
  }
}
