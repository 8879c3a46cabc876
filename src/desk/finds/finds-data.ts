import { useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import type { FindList, FindRow, FindView, Vocabularies } from '#contract'
import { type DateParser, dateParser } from '#core/dating'
import { type Term, type Vocabulary, vocabularyOf } from '#core/finds'
import { findsApi } from '../api/finds-api.ts'
import { queryClient, refreshSurvey, useSurvey } from '../api/queries.ts'
import { sameAnswers } from '../api/same-answer.ts'
import { tellFault } from '../state/notices.ts'
import { findRows } from './find-rows.ts'

const none: readonly FindRow[] = []
const answerOf = sameAnswers()
const rowsOf = new WeakMap<FindList, readonly FindRow[]>()

/** All finds of the survey, light; the same array while nothing has changed. */
export function useFinds(): readonly FindRow[] {
  const file = useSurvey().survey?.file
  const { data } = useQuery({
    queryKey: ['list', file, 'finds'],
    enabled: file !== undefined,
    queryFn: async () => {
      const list = answerOf<FindList>(`${file}`, await findsApi.list())
      const rows = rowsOf.get(list) ?? findRows(list)
      rowsOf.set(list, rows)
      return rows
    },
  })
  return data ?? none
}

/** The same list as it is known at this moment, outside of a component. */
export function knownFinds(): readonly FindRow[] {
  const file = queryClient.getQueryData<{ file: string }>(['survey'])?.file
  return queryClient.getQueryData<readonly FindRow[]>(['list', file, 'finds']) ?? none
}

/** One find whole; null until it has come. */
export function useFind(id: number | null): { readonly find: FindView | null; readonly error: unknown } {
  const file = useSurvey().survey?.file
  const { data, error } = useQuery({
    queryKey: ['list', file, 'find', id],
    enabled: id !== null && file !== undefined,
    queryFn: () => findsApi.one(id!),
    retry: false,
  })
  return { find: id !== null && data?.id === id ? data : null, error: id === null ? null : error }
}

export function useHistory(id: number) {
  const file = useSurvey().survey?.file
  return useQuery({ queryKey: ['list', file, 'history', id], queryFn: () => findsApi.history(id) }).data ?? []
}

export function useJoins() {
  const file = useSurvey().survey?.file
  return useQuery({ queryKey: ['list', file, 'joins'], queryFn: findsApi.joins }).data ?? []
}

export function useNumbers() {
  const file = useSurvey().survey?.file
  return useQuery({ queryKey: ['list', file, 'numbers'], queryFn: findsApi.numbers }).data ?? null
}

export interface Words {
  readonly materials: Vocabulary
  readonly periods: Vocabulary
  readonly readDate: DateParser
  readonly lists: Vocabularies
}

let kept: { readonly from: Vocabularies; readonly words: Words } | null = null

function wordsOf(lists: Vocabularies): Words {
  if (kept?.from === lists) return kept.words
  const words = {
    materials: vocabularyOf(lists.materials.terms),
    periods: vocabularyOf(lists.periods.terms as readonly (Term & object)[]),
    readDate: dateParser(lists.periods.terms),
    lists,
  }
  kept = { from: lists, words }
  return words
}

/** The open vocabularies, ready to be asked; null until they have come. They never change while the page lives. */
export function useWords(): Words | null {
  const { data } = useQuery({ queryKey: ['line', 'vocabularies'], queryFn: findsApi.vocabularies })
  return useMemo(() => (data ? wordsOf(data) : null), [data])
}

/** Runs a change, shows what it came to, and asks again for what it touched. False where it failed. */
export async function changed(work: () => Promise<unknown>): Promise<boolean> {
  try {
    await work()
    await refreshSurvey()
    return true
  } catch (error) {
    tellFault(error)
    return false
  }
}

/** Puts a find that an answer brought in place of the one that is shown, before the list comes again. */
export function showFind(find: FindView): void {
  const file = queryClient.getQueryData<{ file: string }>(['survey'])?.file
  queryClient.setQueryData(['list', file, 'find', find.id], find)
}
