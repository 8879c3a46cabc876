import { useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import type { FindRow, ObjectList } from '#contract'
import {
  type CodedWord,
  searchTerms,
  type UsedWord,
  type Vocabulary,
  vocabularyOf,
  wordsUsed,
} from '#core/finds'
import { findsApi } from '../api/finds-api.ts'
import { useSurvey } from '../api/queries.ts'
import type { Choice } from './combo-box.tsx'
import { useFinds } from './finds-data.ts'

/** The survey's own list of words for objects; null where it has none, or has not come yet. */
export function useObjectList(): ObjectList | null {
  const file = useSurvey().survey?.file
  return (
    useQuery({
      queryKey: ['list', file, 'object-list'],
      enabled: file !== undefined,
      queryFn: findsApi.objectList,
    }).data ?? null
  )
}

const usedOf = new WeakMap<readonly FindRow[], readonly UsedWord[]>()

/** The words that the survey's objects have already, the commonest first. Worked out once for a list of finds. */
export function usedObjects(rows: readonly FindRow[]): readonly UsedWord[] {
  const known = usedOf.get(rows)
  if (known !== undefined) return known
  const made = wordsUsed(rows.map(({ object }) => object))
  usedOf.set(rows, made)
  return made
}

/** What can be offered for an object: the terms of the own list, and the words that are used. */
export interface ObjectWords {
  readonly list: Vocabulary | null
  readonly used: readonly UsedWord[]
}

export function useObjectWords(): ObjectWords {
  const own = useObjectList()
  const rows = useFinds()
  return useMemo(() => ({ list: own && vocabularyOf(own.terms), used: usedObjects(rows) }), [own, rows])
}

const mostOffers = 8
const plainKey = '='

/** What to offer for what was typed so far: terms of a list first, then words in use with their number of finds. */
export function wordChoices(text: string, { list, used }: ObjectWords): Choice[] {
  const typed = text.trim().toLowerCase()
  const coded = list === null ? [] : searchTerms(list, text, mostOffers)
  const names = new Set(coded.map(({ term }) => term.name))
  const plain = used.filter(
    (word) =>
      word.text !== text &&
      !names.has(word.text) &&
      word.spellings.some((one) => one.text.toLowerCase().includes(typed)),
  )
  return [
    ...coded.map(({ term, by }) => ({
      key: term.key,
      name: term.name,
      ...(by === term.name ? {} : { aside: by }),
    })),
    ...plain
      .slice(0, mostOffers - coded.length)
      .map((word) => ({ key: plainKey + word.text, name: word.text, aside: String(word.count) })),
  ]
}

/** The word that a choice stands for, with its term where it is one of a list. */
export function wordOfChoice({ key, name }: Choice): CodedWord {
  return { text: name, term: key.startsWith(plainKey) ? null : key }
}
