import type { History } from '#contract'
import { type EventKind, eventKinds, findFields } from '#core/finds'
import { type FindChange, type FindEvent, fieldOfColumn } from '#store'

const iso = (seconds: number): string => new Date(seconds * 1000).toISOString()

function eventEntry(event: FindEvent): History[number] {
  const kind: EventKind = eventKinds.find((known) => known === event.kind) ?? 'other'
  return {
    at: iso(event.recordedAt),
    by: event.recordedBy,
    kind,
    happenedOn: event.happenedOn,
    who: event.who,
    note: event.note,
    what: null,
    fields: [],
  }
}

/** A cell of the journal in words. */
function words(column: string, value: unknown): string {
  if (value === null || value === undefined) return ''
  if (column === 'depth_m' && typeof value === 'number') return String(Number((value * 100).toFixed(4)))
  if (column === 'findspot_id') return 'findspot'
  const text = String(value)
  if (!text.startsWith('[')) return text
  try {
    return (JSON.parse(text) as unknown[]).map(String).join('; ')
  } catch {
    return text
  }
}

/** Fields that differ, each once; what hangs on another column (the term beside a word) is left to that one. */
function changedFields({ change, before, after }: FindChange): History[number]['fields'] {
  const columns = change === 'insert' ? Object.keys(after) : change === 'delete' ? [] : Object.keys(before)
  return columns.flatMap((column) => {
    const field = fieldOfColumn.get(column)
    if (field === undefined) return []
    const [was, is] = [words(column, before[column]), words(column, after[column])]
    return was === is && column !== 'findspot_id'
      ? []
      : [{ label: findFields[field].label, before: was, after: is }]
  })
}

/** History and changes of one find as one list, newest first. */
export function findHistory(events: readonly FindEvent[], changes: readonly FindChange[]): History {
  const changed = changes.map((change): History[number] => ({
    at: iso(change.at),
    by: change.by,
    kind: 'change',
    happenedOn: null,
    who: null,
    note: null,
    what: change.what,
    fields: changedFields(change),
  }))
  return [...changed, ...events.map(eventEntry)].sort((a, b) => (a.at < b.at ? 1 : a.at > b.at ? -1 : 0))
}
