import {
  type AreaView,
  type ChancesSummary,
  type ChancesView,
  type ChancesWish,
  type GapsArea,
  type LanesWalkedView,
  type LanesWalkedWish,
  type MissedLanes,
  type PhotographMatches,
  type PhotographMatchWish,
  type PhotographMoment,
  type Sweep,
  type Visit,
  type VisitAccount,
  type VisitEdit,
  walkColumns,
} from '#contract'
import { SurveyError } from '#core/faults'
import { defaultCleanSettings } from '#core/track'
import type { StoredVisit, SurveyFile, VisitFacts } from '#store'
import { type VisitWalk, visitWalkInThread } from '#work'
import { storedArea } from '../area-edit.ts'
import type { StartedJob } from '../desk-service.ts'
import { searchGround, surveyGrid } from '../ground.ts'
import type { Jobs } from '../jobs.ts'
import { settingsOf } from '../settings.ts'
import { areaView, isoTime, nested } from '../views.ts'
import { planarOf, spotsOfVisit, visitCoverOfSurvey } from '../visit-cover.ts'
import { ChancesOfSurvey } from './chances-of-survey.ts'
import { lanesWalkedOf, missedGround, missedPlan } from './lanes-walked.ts'
import { matchPhotographs, photographMoment } from './match-photographs.ts'
import type { VisitService } from './visit-service.ts'

/** More fixes of a walk than this are thinned evenly for the page. */
const mostWalkFixes = 50_000

interface Around {
  readonly start: Jobs['start']
  /** Something of the survey may have changed. */
  readonly changed: () => void
  /** Nothing of the survey has changed, but its pages are to look again. */
  readonly better: () => void
}

/** The visits of one open survey. The walk and the lanes last looked at are kept in memory, the chances in the survey. */
export class VisitsOfSurvey implements VisitService {
  readonly #survey: SurveyFile
  readonly #around: Around
  readonly #chances: ChancesOfSurvey
  #lanes: { readonly key: string; readonly view: Promise<LanesWalkedView> } | null = null
  #walk: { readonly key: string; readonly walk: Promise<VisitWalk> } | null = null

  constructor(survey: SurveyFile, around: Around) {
    this.#survey = survey
    this.#around = around
    this.#chances = new ChancesOfSurvey(survey, (visit) => this.#sweepOf(visit))
  }

  list(): Visit[] {
    const held = { tracks: this.#survey.tracks(), findspots: this.#survey.findspots() }
    return this.#survey.visits().map((visit) => this.#view(visit, held))
  }

  change(id: number, edit: VisitEdit): Visit {
    return this.#changed(() => this.#view(this.#survey.changeVisit(id, edit as Partial<VisitFacts>)))
  }

  moveTrack(track: number, visit: number | null): Visit {
    return this.#changed(() => this.#view(this.#survey.moveTrack(track, visit)))
  }

  countTrack(track: number, walked: boolean): void {
    this.#changed(() => this.#survey.countTrack(track, walked))
  }

  async account(id: number): Promise<VisitAccount> {
    const { fixes, recorded, ...told } = await this.#walkOf(id)
    return { id, fixes: recorded, kept: fixes.length / walkColumns, ...told } as VisitAccount
  }

  async walk(id: number): Promise<Float64Array> {
    const { fixes } = await this.#walkOf(id)
    const every = Math.ceil(fixes.length / walkColumns / mostWalkFixes)
    if (every <= 1) return fixes
    const kept = Math.ceil(fixes.length / walkColumns / every)
    const thin = new Float64Array(walkColumns * kept)
    for (let k = 0; k < kept; k++)
      thin.set(fixes.subarray(k * every * walkColumns, (k * every + 1) * walkColumns), k * walkColumns)
    return thin
  }

  startChances(wish: ChancesWish): StartedJob<void> {
    const survey = this.#survey
    const madeOf = this.#chances.madeOf(wish.only)
    const { only, ...asked } = wish
    return this.#around.start('chances', 'working out the chances', async (options) => {
      const made = await visitCoverOfSurvey(
        survey,
        {
          ...asked,
          only: only?.map(String) ?? null,
          sweep: this.#sweepOf(null),
          sweepOf: Object.fromEntries(survey.visits().map((visit) => [visit.id, this.#sweepOf(visit)])),
          clean: true,
          cutDrives: false,
        },
        options,
      )
      await this.#chances.save(wish, madeOf, made)
      this.#around.better()
    })
  }

  chances(only: readonly number[] | null): ChancesView | null {
    return this.#chances.view(only)
  }

  chancesKept(): ChancesSummary[] {
    return this.#chances.list()
  }

  chanceTile(id: string, level: number, column: number, row: number): Promise<Uint8Array | null> {
    return this.#chances.tile(id, level, column, row)
  }

  gapsArea({ name, leastM2, only }: GapsArea): AreaView {
    const grid = surveyGrid(this.#survey)
    const gaps = (this.#chances.view(only)?.cover.gaps ?? []).filter(({ areaM2 }) => areaM2 >= leastM2)
    if (grid === null || gaps.length === 0)
      throw new SurveyError(
        'nothing-to-export',
        'There is no gap of that size: work the chances out first, or take smaller gaps.',
      )
    return this.#addArea(
      name,
      gaps.flatMap(({ polygons }) => polygons),
    )
  }

  #addArea(name: string, polygons: AreaView['polygons']): AreaView {
    const grid = surveyGrid(this.#survey)!
    const edit = storedArea({ name, polygons }, grid)
    return this.#changed(() => areaView(this.#survey.addArea(edit), grid))
  }

  lanesWalked(wish: LanesWalkedWish): Promise<LanesWalkedView> {
    const key = `${JSON.stringify(wish)} ${this.#survey.revision()}`
    if (this.#lanes?.key !== key) {
      const view = lanesWalkedOf(this.#survey, wish)
      this.#lanes = { key, view }
      view.catch(() => {
        this.#lanes = null
      })
    }
    return this.#lanes!.view
  }

  async missedArea({ wish, name }: MissedLanes): Promise<AreaView> {
    const ground = await missedGround(this.#survey, await this.lanesWalked(wish))
    return this.#addArea(name, nested(ground.polygons))
  }

  async missedPlan({ wish, name }: MissedLanes): Promise<{ readonly id: number; readonly name: string }> {
    const { facts, lanes } = missedPlan(this.#survey, await this.lanesWalked(wish), name)
    const { id } = this.#changed(() => this.#survey.land.keepPlan(facts, lanes))
    return { id, name }
  }

  photographMoment(name: string, path: string): Promise<PhotographMoment> {
    return photographMoment(name, path)
  }

  matchPhotographs(wish: PhotographMatchWish): PhotographMatches {
    return matchPhotographs(this.#survey, wish)
  }

  #changed<Result>(change: () => Result): Result {
    try {
      return change()
    } finally {
      this.#around.changed()
    }
  }

  /** How a visit was swept; what is not told is the survey's swath, 2 m of error, and an instrument that tells of all. */
  #sweepOf(visit: StoredVisit | null): Sweep {
    const both = visit !== null && visit.coilM !== null && visit.rateHz !== null
    return {
      swathM: visit?.swathM ?? settingsOf(this.#survey).swathM,
      errorM: visit?.errorM ?? defaultCleanSettings.errorM,
      coilM: both ? visit.coilM : null,
      rateHz: both ? visit.rateHz : null,
      ownChance: visit?.ownChance ?? 1,
    }
  }

  #view(
    visit: StoredVisit,
    held = { tracks: this.#survey.tracks(), findspots: this.#survey.findspots() },
  ): Visit {
    const rows = held.tracks.filter(({ visitId }) => visitId === visit.id)
    const times = rows.flatMap(({ start, end }) => [start, end]).filter((time) => time !== null)
    return {
      ...visit,
      name: visit.day ?? 'Without a date',
      tracks: rows.map(({ id }) => id),
      findspots: held.findspots.filter(({ visitId }) => visitId === visit.id).length,
      start: times.length > 0 ? isoTime(Math.min(...times)) : null,
      end: times.length > 0 ? isoTime(Math.max(...times)) : null,
    }
  }

  #walkOf(id: number): Promise<VisitWalk> {
    const key = `${id} ${this.#survey.revision()}`
    if (this.#walk?.key !== key) {
      const walk = this.#cleanedWalk(id)
      this.#walk = { key, walk }
      walk.catch(() => {
        this.#walk = null
      })
    }
    return this.#walk!.walk
  }

  async #cleanedWalk(id: number): Promise<VisitWalk> {
    const survey = this.#survey
    const grid = surveyGrid(survey)
    const visit = survey.visits().find((each) => each.id === id)
    if (visit === undefined)
      throw new SurveyError('not-found', `There is no visit ${id} in the survey; it may have been removed.`)
    const rows = survey.tracks().filter(({ visitId, walked }) => visitId === id && walked)
    if (grid === null || rows.length === 0)
      throw new SurveyError('no-track', 'This visit holds no walked track.')
    const { swathM, coilM, rateHz, errorM } = this.#sweepOf(visit)
    const { maxJumpM, maxJumpS } = settingsOf(survey)
    const area = await searchGround(survey, grid)
    return visitWalkInThread({
      tracks: rows.map((row) => planarOf(survey, grid, row.id, visit.clockOffsetS)),
      area: area.polygons.length > 0 ? area : null,
      clean: { ...defaultCleanSettings, errorM },
      cutDrives: visit.cutDrives,
      coilM,
      rateHz,
      sweep: { widthM: swathM, maxJumpM, maxJumpS },
      finds: spotsOfVisit(survey.findspots(), grid, id).map(({ time, finds }) => ({
        time: time!,
        count: finds,
      })),
    })
  }
}
