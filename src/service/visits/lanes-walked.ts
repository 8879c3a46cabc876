import type { LaneFigures, LanesWalkedView, LanesWalkedWish, PlannedLane, PlanWishes } from '#contract'
import { laneFiguresShape, planWishesShape } from '#contract'
import { groundAlong } from '#core/cover'
import { SurveyError } from '#core/faults'
import type { PlanarGrid } from '#core/geodesy'
import { areaBounds, type PlanarArea, pointInPolygon } from '#core/geometry'
import { usualPace, walkTime } from '#core/lanes'
import { defaultCleanSettings, partOfLane } from '#core/track'
import type { LaneFacts, PlanFacts, StoredPlan, StoredTrackRow, SurveyFile } from '#store'
import { type LanesWalked, lanesWalkedInThread } from '#work'
import { planarPolygons, searchGround, surveyGrid } from '../ground.ts'
import { keptLaneClashes } from '../land/land-clashes.ts'
import { keptLanes, laneFacts } from '../plans/planned-lanes.ts'
import { isoTime } from '../views.ts'
import { planarOf } from '../visit-cover.ts'

/** Fixes of each track that are asked whether they lie in a plan's area. */
const samples = 60

/**
 * Which lanes of a plan were walked, by the cleaned tracks of visits. Nothing is changed.
 * Faults: SurveyError 'not-found', 'no-track', 'no-area' where no plan is kept.
 */
export async function lanesWalkedOf(survey: SurveyFile, wish: LanesWalkedWish): Promise<LanesWalkedView> {
  const grid = surveyGrid(survey)
  const rows = survey
    .tracks()
    .filter(({ walked, visitId }) => walked && (wish.only?.includes(visitId ?? 0) ?? true))
  if (grid === null || rows.length === 0)
    throw new SurveyError(
      'no-track',
      'There is no walked track to set against the lanes: choose other visits.',
    )
  const visits = new Map(survey.visits().map((visit) => [visit.id, visit]))
  const tracks = rows.map(({ id, visitId }) => {
    const visit = visits.get(visitId ?? 0)
    return {
      track: planarOf(survey, grid, id, visit?.clockOffsetS ?? 0),
      clean: { ...defaultCleanSettings, errorM: visit?.errorM ?? defaultCleanSettings.errorM },
      cutDrives: visit?.cutDrives ?? false,
    }
  })
  const plan =
    wish.plan === null
      ? planThatFits(
          survey,
          grid,
          tracks.map(({ track }) => track),
        )
      : survey.land.plan(wish.plan)
  const lanes = keptLanes(survey.land.lanes(plan.id), grid)
  const spacingM = spacingOf(plan)
  const found = await lanesWalkedInThread({
    tracks,
    lanes: lanes.map(({ xy }) => Float64Array.from(xy)),
    spacingM,
    toleranceM: wish.toleranceM,
  })
  return viewOf(plan, spacingM, lanes, rows, found)
}

function spacingOf({ settings, figures }: StoredPlan): number | null {
  return (
    laneFiguresShape.safeParse(figures).data?.spacingM ??
    planWishesShape.safeParse(settings).data?.spacingM ??
    null
  )
}

/** The plan whose ground holds most of the fixes; of several alike the one kept last. */
function planThatFits(
  survey: SurveyFile,
  grid: PlanarGrid,
  tracks: readonly { readonly xy: Float64Array }[],
): StoredPlan {
  const plans = survey.land.plans()
  if (plans.length === 0)
    throw new SurveyError(
      'no-area',
      'No plan is kept: lay lanes in Plan and keep them, then they can be compared.',
    )
  const areas = survey.areas()
  const held = plans.map((plan) => {
    const area = areas.find(({ id }) => id === plan.areaId)
    const polygons = area ? planarPolygons(area, grid) : []
    return fixesIn(polygons.length > 0 ? polygons : boundsOfLanes(survey, plan, grid), tracks)
  })
  return plans[held.lastIndexOf(Math.max(...held))]!
}

/** Where the area of a plan has gone: the rectangle about its lanes. */
function boundsOfLanes(survey: SurveyFile, { id }: StoredPlan, grid: PlanarGrid): PlanarArea['polygons'] {
  const rings = keptLanes(survey.land.lanes(id), grid).map(({ xy }) => Float64Array.from(xy))
  if (rings.length === 0) return []
  const { minX, minY, maxX, maxY } = areaBounds({ epsg: grid.epsg, polygons: [{ rings }] })
  return [{ rings: [Float64Array.of(minX, minY, maxX, minY, maxX, maxY, minX, maxY, minX, minY)] }]
}

function fixesIn(polygons: PlanarArea['polygons'], tracks: readonly { readonly xy: Float64Array }[]): number {
  let held = 0
  for (const { xy } of tracks) {
    const step = 2 * Math.max(1, Math.floor(xy.length / 2 / samples))
    for (let i = 0; i < xy.length; i += step)
      if (polygons.some((polygon) => pointInPolygon(xy[i]!, xy[i + 1]!, polygon))) held++
  }
  return held
}

const toCentimetre = (metres: number): number => Math.round(metres * 100) / 100
const told = (xy: Float64Array): number[] => Array.from(xy, toCentimetre)

function viewOf(
  plan: StoredPlan,
  spacingM: number | null,
  lanes: readonly PlannedLane[],
  rows: readonly StoredTrackRow[],
  { lanes: compared, strayings, ways, toleranceM, errorM, plannedM, walkedM, offM }: LanesWalked,
): LanesWalkedView {
  return {
    plan: plan.id,
    planName: plan.name,
    toleranceM,
    errorM,
    spacingM,
    plannedM,
    walkedM,
    offM,
    lanes: compared.map(({ lane, missed, ...of }) => {
      const { walker, number, xy } = lanes[lane]!
      const line = Float64Array.from(xy)
      const parts = missed.map(({ fromM, toM }) => ({ fromM, toM, xy: told(partOfLane(line, fromM, toM)) }))
      return { walker, number, ...of, xy, missed: parts }
    }),
    strayings: strayings.map(({ track, metres, offM: farthest }, s) => ({
      visit: rows[track]!.visitId,
      metres,
      offM: farthest,
      start: isoTime(ways[s]!.start),
      end: isoTime(ways[s]!.end),
      xy: told(ways[s]!.xy),
    })),
    notes: notesOf(spacingM, toleranceM, errorM),
  }
}

function notesOf(spacingM: number | null, toleranceM: number, errorM: number): string[] {
  const metres = (value: number): string => `${Number(value.toFixed(2))} m`
  const notes = [
    `A place of a lane counts as walked where a track ran within ${metres(toleranceM)} of it along it, in either direction.`,
  ]
  if (spacingM !== null && toleranceM > spacingM / 2 + 1e-6)
    notes.push(
      `The lanes lie ${metres(spacingM)} apart and a position errs by about ${metres(errorM)} along each axis: one lane left out between two that were walked cannot be told.`,
    )
  return notes
}

/** Parts shorter than this many tolerances are ends of lanes that were turned a little early: no ground to come back for. */
const leastPart = 2

/** What was missed of each lane, the longer parts; in the order of the walk. */
function missedParts({ lanes, toleranceM }: LanesWalkedView): PlannedLane[] {
  const numbers = new Map<number, number>()
  return lanes.flatMap(({ walker, missed, state }) =>
    missed
      .filter(({ fromM, toM }) => state === 'skipped' || toM - fromM > leastPart * toleranceM)
      .map(({ fromM, toM, xy }) => {
        const number = (numbers.get(walker) ?? 0) + 1
        numbers.set(walker, number)
        return { walker, number, lengthM: toM - fromM, xy }
      }),
  )
}

function missedOrFault(view: LanesWalkedView): PlannedLane[] {
  const missed = missedParts(view)
  if (missed.length > 0) return missed
  throw new SurveyError('nothing-to-export', `All lanes of ${view.planName} were walked; nothing was missed.`)
}

/** The ground of the lanes that were missed, in search areas. Faults: 'nothing-to-export'. */
export async function missedGround(survey: SurveyFile, view: LanesWalkedView): Promise<PlanarArea> {
  const grid = surveyGrid(survey)!
  const lines = missedOrFault(view).map(({ xy }) => Float64Array.from(xy))
  const width = view.spacingM ?? 2 * view.toleranceM
  const polygons = groundAlong(lines, await searchGround(survey, grid), width)
  if (polygons.length > 0) return { epsg: grid.epsg, polygons }
  throw new SurveyError('nothing-to-export', `What was missed of ${view.planName} lies in no search area.`)
}

/** The lanes that were missed as a plan of their own. Faults: 'nothing-to-export'. */
export function missedPlan(
  survey: SurveyFile,
  view: LanesWalkedView,
  name: string,
): { readonly facts: PlanFacts; readonly lanes: readonly LaneFacts[] } {
  const grid = surveyGrid(survey)!
  const lanes = missedOrFault(view)
  const plan = survey.land.plan(view.plan)
  const wishes = planWishesShape.safeParse(plan.settings).data ?? null
  return {
    facts: {
      name,
      areaId: plan.areaId,
      areaName: plan.areaName,
      settings: plan.settings,
      figures: figuresOf(lanes, plan, wishes, view),
      clashes: keptLaneClashes(survey, grid, lanes).map(({ text }) => text),
    },
    lanes: laneFacts(lanes, grid),
  }
}

function figuresOf(
  lanes: readonly PlannedLane[],
  plan: StoredPlan,
  wishes: PlanWishes | null,
  { planName, spacingM }: LanesWalkedView,
): LaneFigures | null {
  const before = laneFiguresShape.safeParse(plan.figures).data
  if (before === undefined || spacingM === null) return null
  const pace = wishes?.pace ?? usualPace
  const numbers = [...new Set(lanes.map(({ walker }) => walker))]
  const walkers = numbers.map((walker) => {
    const from = lanes.findIndex((lane) => lane.walker === walker)
    const own = lanes.filter((lane) => lane.walker === walker)
    const lengthM = own.reduce((sum, lane) => sum + lane.lengthM, 0)
    const betweenM = own.slice(1).reduce((sum, lane, i) => sum + apart(own[i]!, lane), 0)
    const time = walkTime({ lengthM, wayM: betweenM, turns: own.length - 1 }, pace)
    const counts = { lanes: own.length, lengthM, betweenM, outsideM: 0, turns: own.length - 1 }
    return { from, to: from + own.length, ...counts, hours: time.totalS / 3600, restHours: time.restS / 3600 }
  })
  const longest = walkers.reduce((most, walker) => (walker.hours > most.hours ? walker : most))
  const sum = (of: 'lengthM' | 'betweenM' | 'turns'): number =>
    walkers.reduce((all, walker) => all + walker[of], 0)
  return {
    ...before,
    lanes: lanes.length,
    lengthM: sum('lengthM'),
    turns: sum('turns'),
    betweenM: sum('betweenM'),
    outsideM: 0,
    areaM2: sum('lengthM') * spacingM,
    hours: longest.hours,
    restHours: longest.restHours,
    parts: [],
    walkers: walkers.map(({ restHours: _, ...walker }) => walker),
    notes: [
      `What was not walked of ${planName}; between lanes the way is counted straight, whatever lies there.`,
    ],
  }
}

/** From the end of one lane to the start of the next, straight. */
function apart(one: PlannedLane, next: PlannedLane): number {
  return Math.hypot(next.xy[0]! - one.xy.at(-2)!, next.xy[1]! - one.xy.at(-1)!)
}
