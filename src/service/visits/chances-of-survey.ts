import { createHash } from 'node:crypto'
import { promisify } from 'node:util'
import { deflate, inflate } from 'node:zlib'
import {
  type ChancesSummary,
  type ChancesView,
  type ChancesWish,
  chancesSummaryShape,
  chancesWishShape,
  type GridFrame,
  type Sweep,
  type VisitCoverView,
  type VisitView,
  visitCoverViewShape,
} from '#contract'
import type { StoredChances, StoredVisit, SurveyFile } from '#store'
import { surveyGrid } from '../ground.ts'
import { surroundings } from '../surroundings.ts'
import { isoTime } from '../views.ts'
import { spotsOfVisit, type VisitCover } from '../visit-cover.ts'
import { chanceTile } from './chance-tile.ts'

const deflated = promisify(deflate)
const inflated = promisify(inflate)

/** A kept surface tells chances in steps of a two hundredth: the edges of the steps of a tile are whole numbers of them. */
const steps = 200
const outside = 255
const heldSurfaces = 2
const secondsPerHour = 3600
const squareMetresPerHectare = 10_000

/** Which visits, as the store names the choice. */
const choiceOf = (only: readonly number[] | null): string =>
  only === null ? 'all' : [...only].sort((a, b) => a - b).join(' ')

/** What is kept as figures: all but the gaps themselves. */
const keptFiguresShape = visitCoverViewShape
  .omit({ gaps: true })
  .extend({ gapSums: chancesSummaryShape.shape.gaps })

const sumsOf = (gaps: VisitCoverView['gaps']): ChancesSummary['gaps'] => ({
  count: gaps.length,
  areaM2: gaps.reduce((sum, { areaM2 }) => sum + areaM2, 0),
})

interface Surface {
  readonly frame: GridFrame
  readonly chance: Float32Array
}

/** The chances of one open survey, kept in it with what they were made of. */
export class ChancesOfSurvey {
  readonly #survey: SurveyFile
  readonly #sweepOf: (visit: StoredVisit) => Sweep
  /** The surfaces last worked out or shown, by their id: a page may still ask for what was there before. */
  readonly #surfaces = new Map<string, Promise<Surface | null>>()
  #shown: { readonly id: string; readonly cover: VisitCoverView } | null = null

  constructor(survey: SurveyFile, sweepOf: (visit: StoredVisit) => Sweep) {
    this.#survey = survey
    this.#sweepOf = sweepOf
  }

  /** All that the chances of some visits depend on, as one text. Finds do not: figures of finds are counted when they are shown. */
  madeOf(only: readonly number[] | null): string {
    const tracks = this.#survey.tracks()
    const visits = this.#survey
      .visits()
      .filter(({ id }) => only?.includes(id) ?? true)
      .map((visit) => {
        const { id, clockOffsetS, cutDrives } = visit
        const own = tracks.filter(({ visitId, walked }) => visitId === id && walked).map((track) => track.id)
        return { id, clockOffsetS, cutDrives, own, ...this.#sweepOf(visit) }
      })
    const all = JSON.stringify([this.#survey.groundRevision(), visits])
    return createHash('sha256').update(all).digest('hex')
  }

  /** Keeps what was worked out. `madeOf` is as it was when the work began. */
  async save(wish: ChancesWish, madeOf: string, { view, chance }: VisitCover): Promise<void> {
    const id = surroundings.uuid()
    const { gaps, ...rest } = view
    const figures = { ...rest, gapSums: sumsOf(gaps) }
    const bytes = Uint8Array.from(chance, (value) =>
      Number.isNaN(value) ? outside : Math.floor(value * steps + 1e-3),
    )
    const surface = new Uint8Array(await deflated(bytes, { level: 1 }))
    this.#survey.chances.save({ id, choice: choiceOf(wish.only), madeOf, wish, figures, gaps, surface })
    this.#hold(id, Promise.resolve({ frame: view.frame, chance }))
    this.#shown = { id, cover: view }
  }

  /** The chances kept for some visits, or for all; null where there are none that can be read. */
  view(only: readonly number[] | null): ChancesView | null {
    const stored = this.#survey.chances.list().find(({ choice }) => choice === choiceOf(only))
    const wish = chancesWishShape.safeParse(stored?.wish).data
    if (stored === undefined || wish === undefined) return null
    if (this.#shown?.id !== stored.id) {
      const gaps = this.#survey.chances.gaps(stored.id)
      const cover = visitCoverViewShape.safeParse({ ...(stored.figures as object), gaps }).data
      if (cover === undefined) return null
      this.#shown = { id: stored.id, cover }
    }
    return {
      id: stored.id,
      madeAt: isoTime(stored.madeAt)!,
      wish,
      stale: stored.madeOf !== this.madeOf(wish.only),
      surface: stored.hasSurface,
      cover: this.#withFinds(this.#shown.cover),
    }
  }

  list(): ChancesSummary[] {
    return this.#survey.chances.list().flatMap((stored) => this.#summary(stored))
  }

  #summary(stored: StoredChances): ChancesSummary[] {
    const wish = chancesWishShape.safeParse(stored.wish).data
    const cover = keptFiguresShape.safeParse(stored.figures).data
    if (wish === undefined || cover === undefined) return []
    return [
      {
        only: wish.only,
        madeAt: isoTime(stored.madeAt)!,
        gapChance: wish.gapChance,
        stale: stored.madeOf !== this.madeOf(wish.only),
        ...cover.all,
        gaps: cover.gapSums,
        visits: cover.visits.map(({ id, expectedShare }) => ({ id: Number(id), expectedShare })),
      },
    ]
  }

  /** Finds may have been entered since: they are counted anew. */
  #withFinds(cover: VisitCoverView): VisitCoverView {
    const grid = surveyGrid(this.#survey)
    if (grid === null) return cover
    const findspots = this.#survey.findspots()
    const visits = cover.visits.map((visit): VisitView => {
      const spots = spotsOfVisit(findspots, grid, visit.id === '0' ? null : Number(visit.id))
      const finds = spots.reduce((sum, spot) => sum + spot.finds, 0)
      const hours = ((visit.walkingS ?? 0) + (visit.stoppedS ?? 0)) / secondsPerHour
      const hectares = (visit.expectedShare * cover.figures.areaM2) / squareMetresPerHectare
      return {
        ...visit,
        finds,
        findsPerHour: hours > 0 ? finds / hours : null,
        findsPerCoveredHectare: hectares > 0 ? finds / hectares : null,
      }
    })
    return { ...cover, visits }
  }

  async tile(id: string, level: number, column: number, row: number): Promise<Uint8Array | null> {
    const held = this.#surfaces.get(id) ?? this.#hold(id, this.#readSurface(id))
    const surface = await held
    if (surface === null) this.#surfaces.delete(id)
    return surface && chanceTile(surface, level, column, row)
  }

  #hold(id: string, surface: Promise<Surface | null>): Promise<Surface | null> {
    this.#surfaces.set(id, surface)
    for (const old of [...this.#surfaces.keys()].slice(0, -heldSurfaces)) this.#surfaces.delete(old)
    return surface
  }

  async #readSurface(id: string): Promise<Surface | null> {
    const stored = this.#survey.chances.list().find((each) => each.id === id)
    const figures = visitCoverViewShape.pick({ frame: true }).safeParse(stored?.figures).data
    const packed = this.#survey.chances.surface(id)
    if (figures === undefined || packed === null) return null
    const bytes = await inflated(packed)
    const chance = Float32Array.from(bytes, (value) => (value === outside ? Number.NaN : value / steps))
    return { frame: figures.frame, chance }
  }
}
