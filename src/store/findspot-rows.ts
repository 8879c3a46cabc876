import { decodePoint, encodePoint } from './area-geometry.ts'
import { attributesAt, attributesCell, bytesAt, dateTimeCell, numberAt, secondsAt, textAt } from './cells.ts'
import type { Cell, Connection, Row } from './connection.ts'
import { planarAt, planarCells } from './planar-cells.ts'
import type { PlacedFindspot, StoredFind, StoredFindspot } from './survey-file.ts'

export function newFindspotCells(
  { recorded, planar }: PlacedFindspot,
  uuid: string,
  originalId: number | null,
): Record<string, Cell> {
  return {
    uuid,
    name: recorded.name,
    ...planarCells(planar),
    accuracy_m: recorded.accuracyM,
    elevation_m: recorded.elevation,
    found_at: dateTimeCell(recorded.time),
    note: recorded.note,
    attributes: attributesCell(recorded.attributes),
    original_id: originalId,
    geom: encodePoint(recorded.x, recorded.y),
  }
}

/**
 * All findspots with their finds, in the order they came. One whose position another program emptied or spoilt is left
 * out here (`check` tells of it); its finds are still among `readFinds`. Cost: linear in findspots and finds.
 */
export function readFindspots(on: Connection): StoredFindspot[] {
  const finds = new Map<number | null, StoredFind[]>()
  for (const find of readFinds(on)) {
    const beside = finds.get(find.findspotId)
    if (beside === undefined) finds.set(find.findspotId, [find])
    else beside.push(find)
  }
  const rows = on.all(`SELECT findspots.*, originals.name AS original_name, visits.id AS visit_id
    FROM findspots LEFT JOIN originals ON originals.id = findspots.original_id
    LEFT JOIN visits ON visits.uuid = findspots.visit_uuid ORDER BY findspots.id`)
  return rows.flatMap((row) => {
    const spot = storedFindspot(row, finds.get(numberAt(row, 'id')) ?? [])
    return spot === null ? [] : [spot]
  })
}

function storedFindspot(row: Row, finds: readonly StoredFind[]): StoredFindspot | null {
  const blob = bytesAt(row, 'geom')
  const point = blob === null ? null : decodePoint(blob)
  if (point === null) return null
  return {
    id: numberAt(row, 'id') ?? 0,
    uuid: textAt(row, 'uuid') ?? '',
    originalName: textAt(row, 'original_name'),
    name: textAt(row, 'name'),
    visitId: numberAt(row, 'visit_id'),
    lon: point.x,
    lat: point.y,
    planar: planarAt(row),
    accuracyM: numberAt(row, 'accuracy_m'),
    elevation: numberAt(row, 'elevation_m'),
    time: secondsAt(row, 'found_at'),
    note: textAt(row, 'note'),
    attributes: attributesAt(row, 'attributes'),
    finds,
  }
}

/** All finds in the order they came. */
export function readFinds(on: Connection): StoredFind[] {
  return on.all('SELECT * FROM finds ORDER BY id').map((row) => ({
    id: numberAt(row, 'id') ?? 0,
    uuid: textAt(row, 'uuid') ?? '',
    findspotId: numberAt(row, 'findspot_id'),
    number: textAt(row, 'number'),
    givenNumber: textAt(row, 'given_number'),
    object: textAt(row, 'object') ?? '',
    material: textAt(row, 'material'),
    period: textAt(row, 'period'),
    count: numberAt(row, 'count') ?? 1,
    weightG: numberAt(row, 'weight_g'),
    depthM: numberAt(row, 'depth_m'),
  }))
}
