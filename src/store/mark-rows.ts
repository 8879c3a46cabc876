import { SurveyError } from '#core/faults'
import { type LineLookAlike, lineLookAlikes, type RingGap } from '#core/marks'
import { bytesAt, numberAt, parsedJson, secondsAt, textAt } from './cells.ts'
import type { Cell, Connection, Row } from './connection.ts'
import { decodeOutline, encodeOutline, outlineBounds } from './mark-geometry.ts'
import type { MarkChanges, MarkFacts, MarkKind, MarkSighting, MarkState, StoredMark } from './marks-file.ts'
import { planarAt, planarCells } from './planar-cells.ts'
import type { Writer } from './writer.ts'

type NewUuid = () => string

/** Which column holds which fact that is a plain value. */
const columnOf = {
  kind: 'kind',
  state: 'state',
  note: 'note',
  lon: 'lon',
  lat: 'lat',
  diameterM: 'diameter_m',
  ditchWidthM: 'ditch_width_m',
  tone: 'tone',
  completeness: 'completeness',
  ellipticity: 'ellipticity',
  contrast: 'contrast',
  score: 'score',
  falseAlarmsPerKm2: 'false_alarms_km2',
  pairSpacingM: 'pair_spacing_m',
  layerId: 'layer_id',
  layerName: 'layer_name',
  madeBy: 'made_by',
} as const satisfies Partial<Record<keyof MarkFacts, string>>

/** Those that are JSON. */
const jsonColumnOf = {
  arcGaps: 'arc_gaps',
  mayBe: 'may_be',
  view: 'seen_in',
  settings: 'settings',
  seenAgain: 'seen_again',
} as const satisfies Partial<Record<keyof MarkFacts, string>>

function jsonCell(value: unknown): string | null {
  const empty = value === null || value === undefined || (Array.isArray(value) && value.length === 0)
  return empty ? null : JSON.stringify(value)
}

function cellsOf(facts: Partial<MarkFacts>): Record<string, Cell> {
  const cells: Record<string, Cell> = {}
  for (const [key, column] of Object.entries(columnOf) as [keyof typeof columnOf, string][]) {
    if (facts[key] !== undefined) cells[column] = facts[key]
  }
  for (const [key, column] of Object.entries(jsonColumnOf) as [keyof typeof jsonColumnOf, string][]) {
    if (key in facts) cells[column] = jsonCell(facts[key])
  }
  if (facts.edited !== undefined) cells.edited = facts.edited ? 1 : 0
  if (facts.planar !== undefined) Object.assign(cells, planarCells(facts.planar))
  if (facts.outline !== undefined) cells.geom = encodeOutline(facts.outline)
  return cells
}

const oneOf = <Value extends string>(values: readonly Value[], text: string | null, usual: Value): Value =>
  values.find((value) => value === text) ?? usual
const kinds: readonly MarkKind[] = ['ring', 'pit', 'line', 'enclosure']
const states: readonly MarkState[] = ['candidate', 'accepted', 'rejected', 'unsure']

export function readMarks(on: Connection): StoredMark[] {
  return on.all('SELECT * FROM marks ORDER BY id').flatMap((row) => {
    const mark = storedMark(row)
    return mark === null ? [] : [mark]
  })
}

/** Faults: SurveyError not-found. */
export function markOf(on: Connection, id: number): StoredMark {
  const row = on.one('SELECT * FROM marks WHERE id = ?', id)
  const mark = row === null ? null : storedMark(row)
  if (mark === null) {
    throw new SurveyError('not-found', `There is no mark ${id} in the survey; it may have been removed.`)
  }
  return mark
}

function storedMark(row: Row): StoredMark | null {
  const blob = bytesAt(row, 'geom')
  const outline = blob === null ? null : decodeOutline(blob)
  if (outline === null) return null
  const json = (column: string): unknown => parsedJson(textAt(row, column) ?? 'null') ?? null
  const { minX, minY, maxX, maxY } = outlineBounds(outline)
  const [lon, lat, tone] = [numberAt(row, 'lon'), numberAt(row, 'lat'), textAt(row, 'tone')]
  return {
    id: numberAt(row, 'id') ?? 0,
    uuid: textAt(row, 'uuid') ?? '',
    kind: oneOf(kinds, textAt(row, 'kind'), outline.type === 'line' ? 'line' : 'ring'),
    state: oneOf(states, textAt(row, 'state'), 'candidate'),
    note: textAt(row, 'note'),
    outline,
    lon: lon ?? (minX + maxX) / 2,
    lat: lat ?? (minY + maxY) / 2,
    planar: planarAt(row),
    diameterM: numberAt(row, 'diameter_m'),
    ditchWidthM: numberAt(row, 'ditch_width_m'),
    tone: tone === 'dark' || tone === 'light' ? tone : null,
    completeness: numberAt(row, 'completeness'),
    arcGaps: gapsOf(json('arc_gaps')),
    ellipticity: numberAt(row, 'ellipticity'),
    contrast: numberAt(row, 'contrast'),
    score: numberAt(row, 'score'),
    falseAlarmsPerKm2: numberAt(row, 'false_alarms_km2'),
    pairSpacingM: numberAt(row, 'pair_spacing_m'),
    mayBe: lookAlikesOf(json('may_be')),
    layerId: numberAt(row, 'layer_id'),
    layerName: textAt(row, 'layer_name'),
    view: json('seen_in'),
    settings: json('settings'),
    seenAgain: sightingsOf(json('seen_again')),
    madeBy: textAt(row, 'made_by') === 'detector' ? 'detector' : 'hand',
    edited: numberAt(row, 'edited') === 1,
    madeAt: secondsAt(row, 'made_at'),
  }
}

function gapsOf(value: unknown): RingGap[] {
  const isGap = (gap: Partial<RingGap> | null): boolean =>
    Number.isFinite(gap?.fromDeg) && Number.isFinite(gap?.toDeg)
  return Array.isArray(value) && value.every(isGap) ? value : []
}

function lookAlikesOf(value: unknown): LineLookAlike[] {
  return Array.isArray(value) ? lineLookAlikes.filter((each) => value.includes(each)) : []
}

function sightingsOf(value: unknown): MarkSighting[] {
  const isSighting = (seen: Partial<MarkSighting> | null): boolean =>
    Number.isFinite(seen?.layerId) && typeof seen?.layerName === 'string'
  return Array.isArray(value) && value.every(isSighting) ? value : []
}

/** Adds, changes and removes; gives the marks that were added or changed. */
export function writeMarks(
  writer: Writer,
  { add, change, remove }: MarkChanges,
  uuid: NewUuid,
): StoredMark[] {
  for (const id of remove) removeMark(writer, id)
  const changed = change.map(({ id, edit }) => changeMark(writer, id, edit))
  const added = add.map((facts) => {
    const id = writer.insert('marks', { uuid: uuid(), ...cellsOf(facts), made_at: writer.now })
    return markOf(writer.on, id)
  })
  return [...added, ...changed]
}

/** Writes the facts that differ. */
function changeMark(writer: Writer, id: number, edit: Partial<MarkFacts>): StoredMark {
  const { uuid } = markOf(writer.on, id)
  const row = writer.on.one('SELECT * FROM marks WHERE id = ?', id) ?? {}
  const patch = Object.entries(cellsOf(edit)).filter(([column, cell]) => !sameCell(row[column], cell))
  if (patch.length > 0) writer.update('marks', uuid, Object.fromEntries(patch))
  return markOf(writer.on, id)
}

function sameCell(was: unknown, is: Cell): boolean {
  if (was instanceof Uint8Array && is instanceof Uint8Array) return Buffer.compare(was, is) === 0
  return was === is
}

export function removeMark(writer: Writer, id: number): void {
  const { uuid } = markOf(writer.on, id)
  for (const row of writer.on.all('SELECT uuid FROM targets WHERE mark_id = ?', id)) {
    writer.update('targets', String(row.uuid), { mark_id: null })
  }
  writer.remove('marks', uuid)
}
