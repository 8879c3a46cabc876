import { type MarkSearch, soughtKindOf } from '#contract'
import type { MarkChanges, MarkFacts, MarkSighting } from '#store'
import { type FoundMark, isSameFound, knownFor, type PlacedMark } from './known-mark.ts'
import { lineLength } from './mark-outline.ts'
import type { SearchOutcome } from './mark-service.ts'

const sameView = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b)

/** True for a candidate that nobody has touched: a search of the same kind may measure it anew or drop it. */
export function isUntouched({ mark, hasTarget }: Pick<PlacedMark, 'mark' | 'hasTarget'>): boolean {
  const { state, madeBy, edited, note } = mark
  return state === 'candidate' && madeBy === 'detector' && !edited && note === null && !hasTarget
}

const isOfSearch = ({ mark }: PlacedMark, search: MarkSearch): boolean =>
  mark.layerId === search.layerId && sameView(mark.view, search.view)

/**
 * What a search changes in a survey. A candidate that is a known mark (`knownFor`) is never added again, whatever was decided of
 * the mark: one untouched from the same layer and view is measured anew, any other gets a sighting. Untouched candidates of the same
 * layer, view, kind, tone and sizes that are not found again go, unless they were seen elsewhere too.
 */
export function mergeSearch(
  known: readonly PlacedMark[],
  found: readonly FoundMark[],
  search: MarkSearch,
  takenOn: string | null,
): { readonly changes: MarkChanges; readonly outcome: SearchOutcome } {
  const matched = new Map<PlacedMark, FoundMark>()
  const fresh: FoundMark[] = []
  let rejectedBefore = 0
  for (const each of found) {
    const mark = knownFor(known, each)
    if (mark === null) {
      if (!fresh.some((other) => isSameFound(other, each))) fresh.push(each)
    } else if (!matched.has(mark)) {
      matched.set(mark, each)
      if (mark.mark.state === 'rejected') rejectedBefore += 1
    }
  }
  const change = [...matched].flatMap(([placed, { facts }]) => {
    const edit = editOf(placed, { ...facts, takenOn }, search)
    return edit === null ? [] : [{ id: placed.mark.id, edit }]
  })
  const remove = known
    .filter((placed) => !matched.has(placed) && isToGo(placed, search))
    .map(({ mark }) => mark.id)
  const outcome = {
    found: found.length,
    added: fresh.length,
    known: matched.size,
    rejectedBefore,
    dropped: remove.length,
  }
  return { changes: { add: fresh.map(({ facts }) => facts), change, remove }, outcome }
}

function isToGo(placed: PlacedMark, search: MarkSearch): boolean {
  const { mark } = placed
  const wasSought = isOfSizes(placed, search) && (search.tone === 'either' || mark.tone === search.tone)
  return wasSought && isUntouched(placed) && isOfSearch(placed, search) && mark.seenAgain.length === 0
}

/** The range of sizes of a search, or of what a mark remembers of the one that found it: diameters, or widths. */
function rangeOf(search: unknown): readonly [least: number, most: number] | null {
  const { minDiameterM, maxDiameterM, minWidthM, maxWidthM } = (search ?? {}) as Readonly<
    Record<string, unknown>
  >
  const [least, most] = [minDiameterM ?? minWidthM, maxDiameterM ?? maxWidthM]
  return typeof least === 'number' && typeof most === 'number' ? [least, most] : null
}

/**
 * True for a mark of the kind and of the sizes that a search looks for. A candidate may settle a little beyond the sizes that were asked for,
 * so one that a search of these or of narrower sizes found is of them too.
 */
function isOfSizes({ mark, shape }: PlacedMark, search: MarkSearch): boolean {
  if (soughtKindOf(mark.kind) !== search.kind) return false
  if (search.kind === 'line' && 'line' in shape && lineLength(shape.line.xy) < search.leastLengthM)
    return false
  const [least, most] = rangeOf(search)!
  const foundBy = rangeOf(mark.settings)
  if (foundBy && foundBy[0] >= least && foundBy[1] <= most) return true
  const size = 'round' in shape ? shape.round.diameter : shape.line.width
  return size !== null && size >= least && size <= most
}

function editOf(
  placed: PlacedMark,
  seen: MarkFacts & { readonly takenOn: string | null },
  search: MarkSearch,
): Partial<MarkFacts> | null {
  const { mark } = placed
  if (isOfSearch(placed, search)) {
    if (!isUntouched(placed)) return null
    const { seenAgain: _, state: __, note: ___, takenOn: ____, ...measured } = seen
    return measured
  }
  const { layerId, layerName, takenOn, view, score, falseAlarmsPerKm2 } = seen
  const sighting: MarkSighting = {
    layerId: layerId ?? 0,
    layerName: layerName ?? '',
    takenOn,
    view,
    score,
    falseAlarmsPerKm2,
  }
  const others = mark.seenAgain.filter((one) => one.layerId !== layerId || !sameView(one.view, view))
  return { seenAgain: [...others, sighting] }
}

/** What a search came to, in words. */
export function outcomeWords(
  { found, added, known, rejectedBefore, dropped }: SearchOutcome,
  kind: MarkSearch['kind'],
): string {
  if (found === 0 && dropped === 0) return `no ${kind} was found`
  const parts = [`${added} new`]
  if (known > 0) {
    const rejected = rejectedBefore > 0 ? `, ${rejectedBefore} of them rejected and left so` : ''
    parts.push(`${known} known before${rejected}`)
  }
  if (dropped > 0) parts.push(`${dropped} of the last search not found again`)
  return `${found} ${found === 1 ? 'candidate' : 'candidates'}: ${parts.join('; ')}`
}
