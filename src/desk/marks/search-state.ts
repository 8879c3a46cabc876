import type { LayerView, MarkSearch, MarkTone, SoughtKind } from '#contract'
import { deskApi } from '../api/desk-api.ts'
import { sentenceOf } from '../api/request.ts'
import { createStore } from '../state/store.ts'

interface CommonForm {
  readonly tone: MarkTone
  readonly most: number
}

export interface RoundForm extends CommonForm {
  readonly minDiameterM: number
  readonly maxDiameterM: number
}

export interface LineForm extends CommonForm {
  readonly minWidthM: number
  readonly maxWidthM: number
  readonly leastLengthM: number
}

/** What a search is asked for, of each kind by itself; kept for the next one. A null layer or view stands for the uppermost one, as it is seen. */
export interface SearchForm {
  readonly kind: SoughtKind
  readonly layerId: number | null
  readonly view: LayerView['view'] | null
  readonly ring: RoundForm
  readonly pit: RoundForm
  readonly line: LineForm
}

export const searchForm = createStore<SearchForm>({
  kind: 'ring',
  layerId: null,
  view: null,
  ring: { minDiameterM: 8, maxDiameterM: 40, tone: 'dark', most: 50 },
  pit: { minDiameterM: 1, maxDiameterM: 6, tone: 'dark', most: 50 },
  line: { minWidthM: 0.5, maxWidthM: 4, leastLengthM: 20, tone: 'dark', most: 50 },
})

export const changeForm = (patch: Partial<SearchForm>): void =>
  searchForm.set((now) => ({ ...now, ...patch }))

/** Why the last search came to nothing: shown beside its button until the next one. */
export const searchFault = createStore<string | null>(null)

/** What the last search came to, in words. */
export const searchOutcome = createStore<string | null>(null)

/** The kind that was last looked for from this page; null before. */
export const lastSought = createStore<SoughtKind | null>(null)

/** What the form asks for on a layer as it is seen in a view. */
export function searchOf(form: SearchForm, layerId: number, view: LayerView): MarkSearch {
  const { kind } = form
  return kind === 'line' ? { kind, layerId, view, ...form.line } : { kind, layerId, view, ...form[kind] }
}

export async function startSearch(search: MarkSearch): Promise<void> {
  searchFault.set(null)
  searchOutcome.set(null)
  lastSought.set(search.kind)
  try {
    await deskApi.searchMarks(search)
  } catch (error) {
    searchFault.set(sentenceOf(error))
  }
}
