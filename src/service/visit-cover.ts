import type { Settings, Sweep, VisitCoverView, VisitCoverWish, VisitView } from '#contract'
import { SurveyError } from '#core/faults'
import type { PlanarGrid } from '#core/geodesy'
import { areaBounds, type PlanarArea } from '#core/geometry'
import {
  defaultCleanSettings,
  type PlanarTrack,
  questionSpots,
  questionTrack,
  sameWalk,
  withClockMoved,
} from '#core/track'
import type { StoredFindspot, StoredTrackRow, StoredVisit, SurveyFile } from '#store'
import {
  type ChanceWish,
  type CoverOutcome,
  coverInThreads,
  type KeptStages,
  type TrackAccount,
  type WorkOptions,
} from '#work'
import { searchGround, surveyGrid } from './ground.ts'
import { projected } from './projecting.ts'
import { settingsOf } from './settings.ts'
import { isoTime, nested, planarFindspot } from './views.ts'

/** Findspots farther than this from every track of their day are questioned, metres (our own choice). */
const oddM = 25
/** Seconds over which the error of a receiver changes: errors are correlated over minutes (common practice). */
const memoryS = 120
const secondsPerHour = 3600
const squareMetresPerHectare = 10_000

/** The stages of the last sum of each open survey: a changed setting does again only what it touches. */
const keptOf = new WeakMap<SurveyFile, KeptStages>()

interface Visit {
  /** 0 for walked tracks that are in no visit. */
  readonly id: string
  readonly stored: StoredVisit | null
  readonly rows: readonly StoredTrackRow[]
}

/** The walked tracks by visit, in order of days, those in none last. */
function visitsOf(survey: SurveyFile): Visit[] {
  const rows = survey.tracks().filter(({ walked }) => walked)
  const of = (visit: StoredVisit | null): Visit => ({
    id: String(visit?.id ?? 0),
    stored: visit,
    rows: rows.filter(({ visitId }) => visitId === (visit?.id ?? null)),
  })
  return [...survey.visits(), null].map(of).filter((visit) => visit.rows.length > 0)
}

/** The cover as chances that was worked out, and its surface: a number a cell of `view.frame`, NaN outside the area. */
export interface VisitCover {
  readonly view: VisitCoverView
  readonly chance: Float32Array
  /** Stages that had to be done. */
  readonly done: readonly string[]
}

/**
 * The cover of a survey as chances, by visit and together, with what the tracks say of each visit. Nothing in the survey is changed.
 * Faults: SurveyError 'no-area', 'no-track', 'raster-too-large', 'setting-out-of-range', 'cancelled'.
 */
export async function visitCoverOfSurvey(
  survey: SurveyFile,
  wish: VisitCoverWish,
  options: WorkOptions = {},
): Promise<VisitCover> {
  const grid = surveyGrid(survey)
  const visits = visitsOf(survey).filter(({ id }) => wish.only?.includes(id) ?? true)
  if (grid === null || visits.length === 0)
    throw new SurveyError(
      'no-track',
      'There is no walked track to work with: bring in a GPX file, or choose other visits.',
    )
  const tracks = visits.flatMap(({ rows, stored }) =>
    rows.map(({ id }) => planarOf(survey, grid, id, stored?.clockOffsetS ?? 0)),
  )
  const area = await searchGround(survey, grid)
  const outcome = await coverInThreads(
    { tracks, area, ...askedOf(settingsOf(survey), visits, wish), kept: keptOf.get(survey) ?? null },
    options,
  )
  keptOf.set(survey, outcome.kept)
  const chance = outcome.chance!
  return {
    view: viewOf(survey.findspots(), grid, area, visits, tracks, outcome),
    chance: chance.chance,
    done: outcome.done,
  }
}

/** A stored track in the survey's grid, its clock moved on by some seconds. */
export function planarOf(
  survey: SurveyFile,
  grid: PlanarGrid,
  id: number,
  clockOffsetS: number,
): PlanarTrack & { hdop: Float64Array | null } {
  const { xy, segmentStart, time, hdop } = survey.track(id)
  const track = { epsg: grid.epsg, xy: projected(xy, grid.forward), segmentStart, time, hdop }
  return clockOffsetS === 0 ? track : withClockMoved(track, clockOffsetS)
}

function askedOf(
  { cellM, maxJumpM, maxJumpS, minGapM2 }: Settings,
  visits: readonly Visit[],
  { sweep, sweepOf, clean, cutDrives, gapChance, simulations, seed }: VisitCoverWish,
) {
  let first = 0
  const wishes = visits.map(({ id, rows, stored }) => {
    const own = sweepOf[id] ?? sweep
    const tracks = rows.map((_, t) => first + t)
    first += rows.length
    return {
      tracks,
      widthM: own.swathM,
      chance: chanceWish(own),
      cutDrives: stored?.cutDrives ?? false,
    }
  })
  return {
    widthM: sweep.swathM,
    cellM,
    maxJumpM,
    maxJumpS,
    minGapM2,
    chance: null,
    visits: wishes,
    clean: clean ? defaultCleanSettings : null,
    cutDrives,
    gapChance,
    spread: simulations === null ? null : { simulations, seed, memoryS },
    accounts: true,
  }
}

function chanceWish({ errorM, coilM, rateHz, ownChance }: Sweep): ChanceWish {
  return { errorM, coilM, rateHz, ownChance }
}

function viewOf(
  findspots: readonly StoredFindspot[],
  grid: PlanarGrid,
  area: PlanarArea,
  visits: readonly Visit[],
  tracks: readonly PlanarTrack[],
  outcome: CoverOutcome,
): VisitCoverView {
  const chance = outcome.chance!
  const { expectedShare, share50, share80, share95, gaps } = chance
  const views: VisitView[] = []
  const twins: VisitCoverView['twins'] = []
  const questions: VisitCoverView['questions'] = []
  let first = 0
  for (const [v, visit] of visits.entries()) {
    const own = tracks.slice(first, first + visit.rows.length)
    const accounts = outcome.accounts.slice(first, first + visit.rows.length)
    const spots = spotsOfVisit(findspots, grid, visit.stored?.id ?? null)
    const shares = chance.byVisit[v]!
    const account = accountOfVisit(visit, own, accounts, spots, area)
    const coveredHa = (shares.expectedShare * outcome.figures.areaM2) / squareMetresPerHectare
    views.push({
      ...account,
      ...shares,
      findsPerCoveredHectare: coveredHa > 0 ? account.finds / coveredHa : null,
    })
    twins.push(...twinsOf(visit, own))
    for (const { spot, code, text } of questionSpots(spots, own, oddM))
      questions.push({ findspot: spots[spot]!.id, code, text })
    first += visit.rows.length
  }
  const { figures, spread } = outcome
  return {
    figures,
    frame: chance.frame,
    all: { expectedShare, share50, share80, share95 },
    visits: views,
    gaps: (gaps ?? []).map(({ areaM2, polygon }) => ({ areaM2, polygons: nested([polygon]) })),
    spread: spread === null ? null : (figures.spread ?? null),
    twins,
    questions,
  }
}

/** Findspots of a visit that have a time. */
export function spotsOfVisit(findspots: readonly StoredFindspot[], grid: PlanarGrid, visit: number | null) {
  return findspots.flatMap((findspot) => {
    const planar = planarFindspot(findspot, grid)
    if (planar === null || findspot.visitId !== visit || findspot.time === null) return []
    return [
      {
        id: findspot.id,
        x: planar[0],
        y: planar[1],
        time: findspot.time,
        finds: Math.max(1, findspot.finds.length),
      },
    ]
  })
}

function accountOfVisit(
  { id, rows, stored }: Visit,
  tracks: readonly PlanarTrack[],
  accounts: readonly TrackAccount[],
  spots: readonly { readonly finds: number }[],
  area: PlanarArea,
): Omit<VisitView, 'expectedShare' | 'share50' | 'share80' | 'share95' | 'findsPerCoveredHectare'> {
  const sum = (value: (account: TrackAccount) => number | null): number | null => {
    const told = accounts.map(value).filter((each) => each !== null)
    return told.length === 0 ? null : told.reduce((all, each) => all + each, 0)
  }
  const times = rows
    .flatMap(({ start, end }) => [start, end])
    .flatMap((time) => (time === null ? [] : [time + (stored?.clockOffsetS ?? 0)]))
  const walkingS = sum((account) => account.walkingS)
  const stoppedS = sum((account) => account.stoppedS)
  const hours = ((walkingS ?? 0) + (stoppedS ?? 0)) / secondsPerHour
  const finds = spots.reduce((all, spot) => all + spot.finds, 0)
  const odd = tracks
    .map((track) => questionTrack(track, areaBounds(area)))
    .filter((question) => question !== null)
  return {
    id,
    tracks: rows.map((row) => row.id),
    start: times.length > 0 ? isoTime(Math.min(...times)) : null,
    end: times.length > 0 ? isoTime(Math.max(...times)) : null,
    distanceM: sum((account) => account.distanceM) ?? 0,
    walkingS,
    stoppedS,
    tooFastM: sum(({ fast }) => fast?.reduce((all, { metres }) => all + metres, 0) ?? null),
    fast: accounts.flatMap(({ fast }, t) =>
      (fast ?? []).map(({ start, end, metres, seconds }) => ({
        track: rows[t]!.id,
        start: isoTime(start)!,
        end: isoTime(end)!,
        metres,
        seconds,
      })),
    ),
    stops: accounts.flatMap(({ stops }) =>
      stops.map(({ x, y, start, end }) => ({ x, y, start: isoTime(start)!, end: isoTime(end)! })),
    ),
    drives: accounts.flatMap(({ drives }, t) =>
      drives.map(({ fromFix, toFix, metres }) => ({ track: rows[t]!.id, fromFix, toFix, metres })),
    ),
    finds,
    findsPerHour: hours > 0 ? finds / hours : null,
    notes: [...new Set([...odd.map(({ text }) => text), ...accounts.flatMap(({ notes }) => notes)])],
  }
}

/** Tracks of a visit whose times overlap and that look like one walk. */
function twinsOf({ rows }: Visit, tracks: readonly PlanarTrack[]): VisitCoverView['twins'] {
  const found: VisitCoverView['twins'] = []
  for (let a = 0; a < rows.length; a++) {
    for (let b = a + 1; b < rows.length; b++) {
      const same = sameWalk(tracks[a]!, tracks[b]!)
      if (!same?.same) continue
      const shiftM = Math.hypot(same.shift.east, same.shift.north)
      found.push({ first: rows[a]!.id, second: rows[b]!.id, offsetS: same.offsetS, shiftM })
    }
  }
  return found
}
