import { useMemo } from 'react'
import type { ChancesView, ChancesWish, GapView, SurveyView, VisitEdit } from '#contract'
import { deskApi } from '../api/desk-api.ts'
import { knownChances, knownList, refreshSurvey, useChances, useList } from '../api/queries.ts'
import { selection } from '../state/desk-state.ts'
import { onJobEnd } from '../state/jobs.ts'
import { tellFault } from '../state/notices.ts'
import { createStore, useStore } from '../state/store.ts'
import { visitsChosen } from './visit-choices.ts'

/** What the map tells of the ground: how often it was passed, or how likely it was sensed. */
export const coverShown = createStore<'passes' | 'chance'>('passes')
/** The visit whose card is open. */
export const openVisit = createStore<number | null>(null)
/** 'all', 'year 2026' or 'visit 3'. */
export const choice = createStore('all')
/** Ground below this chance counts as missed. */
export const gapChance = createStore(0.5)
export const withSpread = createStore(false)
export const chancesFault = createStore<string | null>(null)
/** The moment of a visit that the map shows, seconds since 1970; null while it shows the whole. */
export const replayAt = createStore<number | null>(null)

/** Whether the visits are set against a plan, which one (null: that which fits), and how near to a lane counts (null: by spacing and error). */
export const lanesCompared = createStore(false)
export const comparedPlan = createStore<number | null>(null)
export const laneTolerance = createStore<number | null>(null)

/** How many walks are simulated for the spread, and the seed of their errors: said with the result. */
const simulations = 100
const seed = 2026

/** Shows the ground in passes or in chances; a gap of the other kind is let go of. */
export function showCoverAs(kind: 'passes' | 'chance'): void {
  coverShown.set(kind)
  if (selection.get()?.kind === 'gap') selection.set(null)
}

/** Forgets what belongs to the survey that was open. */
export function forgetVisits(): void {
  coverShown.set('passes')
  openVisit.set(null)
  choice.set('all')
  chancesFault.set(null)
  replayAt.set(null)
  lanesCompared.set(false)
  comparedPlan.set(null)
  laneTolerance.set(null)
}

function wishNow(): ChancesWish {
  return {
    only: visitsChosen(choice.get(), knownList('visits')),
    gapChance: gapChance.get(),
    simulations: withSpread.get() ? simulations : null,
    seed,
  }
}

export async function workOutChances(): Promise<void> {
  chancesFault.set(null)
  try {
    await deskApi.startChances(wishNow())
  } catch (error) {
    tellFault(error)
  }
}

onJobEnd((job) => {
  if (job.kind !== 'chances') return
  if (job.state === 'failed') chancesFault.set(job.error?.text ?? 'The chances could not be worked out.')
  // The new ones first: those of before would be shown for a moment.
  void refreshSurvey().then(() => {
    if (job.state === 'done') showCoverAs('chance')
  })
})

export async function changeVisit(id: number, edit: VisitEdit): Promise<void> {
  try {
    await deskApi.changeVisit(id, edit)
  } catch (error) {
    tellFault(error)
  }
  await refreshSurvey()
}

/** Counts a track as walked ground, or leaves it out. */
export async function countTrack(track: number, walked: boolean): Promise<void> {
  try {
    await deskApi.countTrack(track, walked)
  } catch (error) {
    tellFault(error)
  }
  await refreshSurvey()
}

/** Gaps of the chances, numbered from the largest down. */
function gapsOf(chances: ChancesView | null): GapView[] | null {
  return chances?.cover.gaps.map((gap, i) => ({ id: i + 1, ...gap })) ?? null
}

let numbered: { readonly of: ChancesView | null; readonly gaps: GapView[] | null } = { of: null, gaps: null }

function sameGaps(chances: ChancesView | null): GapView[] | null {
  if (numbered.of !== chances) numbered = { of: chances, gaps: gapsOf(chances) }
  return numbered.gaps
}

/** The visits that are chosen; null for all. */
export function useVisitsChosen(): readonly number[] | null {
  const chosen = useStore(choice)
  const visits = useList('visits')
  return useMemo(() => visitsChosen(chosen, visits), [chosen, visits])
}

/** The chances kept for the visits that are chosen. */
export function useChosenChances(): ChancesView | null {
  return useChances(useVisitsChosen())
}

/** The gaps that the map and the list show: those without a pass, or those below the chance. */
export function useShownGaps(): readonly GapView[] {
  const passes = useList('gaps')
  const chances = useChosenChances()
  return useStore(coverShown) === 'chance' ? (sameGaps(chances) ?? passes) : passes
}

export function shownGapsNow(): readonly GapView[] {
  const passes = knownList('gaps')
  return coverShown.get() === 'chance'
    ? (sameGaps(knownChances(visitsChosen(choice.get(), knownList('visits')))) ?? passes)
    : passes
}

/** The chances as the map shows them; null while it shows passes, and where only their figures were kept. */
export function useShownChances(): ChancesView | null {
  const chances = useChosenChances()
  return useStore(coverShown) === 'chance' && chances?.surface ? chances : null
}

/** How many gaps the panel tells of. */
export function gapCount(survey: SurveyView, chances: ChancesView | null): number {
  return chances?.cover.gaps.length ?? survey.cover?.gaps.count ?? 0
}
