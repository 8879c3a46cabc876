import { QueryClient, useQuery } from '@tanstack/react-query'
import type { ChancesSummary, ChancesView, LanesWalkedWish, SurveyView } from '#contract'
import { deskApi, type ListName, type Lists, listPaths, type Position } from './desk-api.ts'
import { RequestError, request } from './request.ts'
import { sameAnswers } from './same-answer.ts'

export const queryClient = new QueryClient({
  defaultOptions: {
    queries: {
      // The server tells of every change, so nothing grows stale by itself.
      staleTime: Number.POSITIVE_INFINITY,
      refetchOnWindowFocus: false,
      networkMode: 'always',
      retry: (count, error) => error instanceof RequestError && error.code === 'no-connection' && count < 2,
      structuralSharing: false,
    },
    mutations: { networkMode: 'always' },
  },
})

const answerOf = sameAnswers()
const none: readonly never[] = []

/** The open survey; null until it has come. */
export function useSurvey() {
  const { data, error } = useQuery({ queryKey: ['survey'], queryFn: deskApi.survey })
  return { survey: data ?? null, error }
}

/** One of the survey's lists; empty until it has come, and the same array while the answer is the same. */
export function useList<Name extends ListName>(name: Name): Lists[Name] {
  const file = useSurvey().survey?.file
  const { data } = useQuery({
    queryKey: ['list', file, name],
    enabled: file !== undefined,
    queryFn: async () =>
      answerOf<Lists[Name]>(`${file} ${name}`, await (await request(listPaths[name])).text()),
  })
  return data ?? (none as Lists[Name])
}

/** The same list as it is known at this moment, outside of a component. */
export function knownList<Name extends ListName>(name: Name): Lists[Name] {
  const file = queryClient.getQueryData<SurveyView>(['survey'])?.file
  return queryClient.getQueryData<Lists[Name]>(['list', file, name]) ?? (none as Lists[Name])
}

const ofVisits = (only: readonly number[] | null): string => only?.join(' ') ?? 'all'

/** The chances kept for some visits, or for all; null where there are none. */
export function useChances(only: readonly number[] | null): ChancesView | null {
  const file = useSurvey().survey?.file
  const of = ofVisits(only)
  const { data } = useQuery({
    queryKey: ['list', file, 'chances', of],
    enabled: file !== undefined,
    queryFn: async () => answerOf<ChancesView | null>(`${file} chances ${of}`, await deskApi.chances(only)),
  })
  return data ?? null
}

/** The same as they are known at this moment, outside of a component. */
export function knownChances(only: readonly number[] | null): ChancesView | null {
  const file = queryClient.getQueryData<SurveyView>(['survey'])?.file
  return queryClient.getQueryData<ChancesView | null>(['list', file, 'chances', ofVisits(only)]) ?? null
}

const noSummaries: readonly ChancesSummary[] = []

/** Figures of every choice of visits whose chances are kept. */
export function useChancesKept(): readonly ChancesSummary[] {
  const file = useSurvey().survey?.file
  const { data } = useQuery({
    queryKey: ['list', file, 'chances-kept'],
    enabled: file !== undefined,
    queryFn: deskApi.chancesKept,
  })
  return data ?? noSummaries
}

/** What cleaning says of a visit; null until it has come. */
export function useVisitAccount(id: number) {
  return useQuery({ queryKey: ['visit-account', id], queryFn: () => deskApi.visitAccount(id) })
}

/** The cleaned fixes of a visit; nothing is asked for null. */
export function useVisitWalk(id: number | null) {
  return useQuery({
    queryKey: ['visit-walk', id],
    enabled: id !== null,
    queryFn: () => deskApi.visitWalk(id!),
  })
}

/** A plan as it was walked; nothing is asked for null. */
export function useLanesWalked(wish: LanesWalkedWish | null) {
  const file = useSurvey().survey?.file
  return useQuery({
    queryKey: ['list', file, 'lanes-walked', wish],
    enabled: wish !== null && file !== undefined,
    queryFn: () => deskApi.lanesWalked(wish!),
    placeholderData: (before) => (wish === null ? undefined : before),
    retry: false,
  })
}

/** Forgets the lists of every survey but this one: another survey may since have answered in its place. */
export function forgetOtherLists(file: string): void {
  queryClient.removeQueries({ queryKey: ['list'], predicate: ({ queryKey }) => queryKey[1] !== file })
  queryClient.removeQueries({ predicate: ({ queryKey }) => String(queryKey[0]).startsWith('visit-') })
}

/** The base maps, as they were when the page was loaded: what the page may ask of other servers was settled then. */
export function useBaseMaps() {
  return useQuery({ queryKey: ['base-maps'], queryFn: deskApi.baseMaps })
}

/** The surveys in the user's folder, asked for when the list is opened. */
export function useSurveys() {
  return useQuery({ queryKey: ['surveys'], queryFn: deskApi.surveys, staleTime: 0 })
}

/** What lies between two places of a grid, the same whatever the survey holds. */
export function lineQuery(epsg: number, from: Position, to: Position) {
  return { queryKey: ['line', epsg, ...from, ...to], queryFn: () => deskApi.line(from, to) }
}

/** Asks again for one of the survey's lists. */
export function refreshList(name: ListName): Promise<void> {
  return queryClient.invalidateQueries({ predicate: ({ queryKey }) => queryKey[2] === name })
}

/** What no change of a survey touches: a kept plan's lanes are never changed, and no other plan gets its number. */
const unchanging: ReadonlySet<unknown> = new Set(['line', 'base-maps', 'lanes'])

/**
 * Asks again for everything that a change may have touched, the survey itself first: where it is another one, the page asks for all of it by itself, and
 * what was of the one before is asked for no more.
 */
export async function refreshSurvey(): Promise<void> {
  const fileNow = (): string | undefined => queryClient.getQueryData<SurveyView>(['survey'])?.file
  const before = fileNow()
  await queryClient.invalidateQueries({ queryKey: ['survey'] })
  if (before !== undefined && fileNow() !== before) return
  await queryClient.invalidateQueries({
    predicate: ({ queryKey }) => queryKey[0] !== 'survey' && !unchanging.has(queryKey[0]),
  })
}
