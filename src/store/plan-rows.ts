import { SurveyError } from '#core/faults'
import { bytesAt, numberAt, parsedJson, secondsAt, textAt } from './cells.ts'
import type { Connection, Row } from './connection.ts'
import type { LaneFacts, PlanFacts, StoredPlan } from './land-file.ts'
import { decodeLine, encodeShape } from './land-geometry.ts'
import type { Writer } from './writer.ts'

/** In the order they were kept. */
export function readPlans(on: Connection): StoredPlan[] {
  return on.all('SELECT * FROM plans ORDER BY id').map(storedPlan)
}

/** Faults: SurveyError not-found. */
export function planOf(on: Connection, id: number): StoredPlan {
  const row = on.one('SELECT * FROM plans WHERE id = ?', id)
  if (row !== null) return storedPlan(row)
  throw new SurveyError('not-found', `There is no plan ${id} in the survey; it may have been removed.`)
}

function storedPlan(row: Row): StoredPlan {
  const id = numberAt(row, 'id') ?? 0
  const json = (column: string): unknown => parsedJson(textAt(row, column) ?? 'null') ?? null
  const clashes = json('clashes')
  return {
    id,
    uuid: textAt(row, 'uuid') ?? '',
    name: textAt(row, 'name') ?? `Plan ${id}`,
    areaId: numberAt(row, 'area_id') ?? 0,
    areaName: textAt(row, 'area_name') ?? '',
    settings: json('settings'),
    figures: json('figures'),
    clashes: Array.isArray(clashes) ? clashes.map(String) : [],
    madeAt: secondsAt(row, 'made_at'),
  }
}

export function readLanes(on: Connection, planId: number): LaneFacts[] {
  const rows = on.all('SELECT * FROM lanes WHERE plan_id = ? ORDER BY walker, number, id', planId)
  return rows.flatMap((row) => {
    const blob = bytesAt(row, 'geom')
    const xy = blob === null ? null : decodeLine(blob)
    if (xy === null) return []
    const [walker, number] = [numberAt(row, 'walker') ?? 1, numberAt(row, 'number') ?? 0]
    return [{ walker, number, lengthM: numberAt(row, 'length_m') ?? 0, xy }]
  })
}

export function writePlan(
  writer: Writer,
  facts: PlanFacts,
  lanes: readonly LaneFacts[],
  uuid: () => string,
): StoredPlan {
  const { name, areaId, areaName, settings, figures, clashes } = facts
  const id = writer.insert('plans', {
    uuid: uuid(),
    name,
    area_id: areaId,
    area_name: areaName,
    settings: JSON.stringify(settings),
    figures: JSON.stringify(figures),
    clashes: clashes.length > 0 ? JSON.stringify(clashes) : null,
    made_at: writer.now,
  })
  for (const { walker, number, lengthM, xy } of lanes) {
    const geom = encodeShape({ type: 'line', xy })
    const cells = { uuid: uuid(), plan_id: id, area_id: areaId, walker, number, length_m: lengthM, geom }
    writer.insert('lanes', cells)
  }
  return planOf(writer.on, id)
}

export function renamePlan(writer: Writer, id: number, name: string): StoredPlan {
  writer.update('plans', planOf(writer.on, id).uuid, { name })
  return planOf(writer.on, id)
}

/** The lanes go first, for they point to it. */
export function removePlan(writer: Writer, id: number): void {
  for (const row of writer.on.all('SELECT uuid FROM lanes WHERE plan_id = ?', id))
    writer.remove('lanes', textAt(row, 'uuid') ?? '')
  writer.remove('plans', planOf(writer.on, id).uuid)
}
