import { decodePolygons, encodePolygon } from './area-geometry.ts'
import { bytesAt, numberAt, parsedJson, secondsAt, textAt } from './cells.ts'
import type { Connection } from './connection.ts'
import { ContentsUpkeep } from './contents.ts'
import type { CoverToSave, StoredCover, StoredGap } from './survey-file.ts'

/** Puts this cover and its gaps in place of the last. It can be made again, so it is not journalled. Cost: linear in the gaps. */
export function writeCover(on: Connection, cover: CoverToSave, now: string): void {
  const contents = new ContentsUpkeep()
  on.run('DELETE FROM gaps')
  on.run('DELETE FROM covers')
  on.run(
    'INSERT INTO covers (uuid, made_at, ground_revision, settings, figures, frame, passes) VALUES (?, ?, ?, ?, ?, ?, ?)',
    cover.id,
    now,
    cover.groundRevision,
    JSON.stringify(cover.settings),
    JSON.stringify(cover.figures),
    JSON.stringify(cover.frame),
    cover.passes,
  )
  for (const gap of cover.gaps) {
    const geom = encodePolygon(gap.polygon)
    on.run('INSERT INTO gaps (area_m2, cover_uuid, geom) VALUES (?, ?, ?)', gap.areaM2, cover.id, geom)
  }
  contents.changed('gaps')
  contents.finish(on, now)
}

export function readLatestCover(on: Connection): StoredCover | null {
  const row = on.one(
    'SELECT uuid, made_at, ground_revision, settings, figures, frame FROM covers ORDER BY id DESC LIMIT 1',
  )
  if (row === null) return null
  return {
    id: textAt(row, 'uuid') ?? '',
    madeAt: secondsAt(row, 'made_at') ?? 0,
    settings: parsedJson(textAt(row, 'settings') ?? 'null'),
    figures: parsedJson(textAt(row, 'figures') ?? 'null'),
    frame: parsedJson(textAt(row, 'frame') ?? 'null'),
    groundRevision: numberAt(row, 'ground_revision') ?? -1,
  }
}

export function readCoverPasses(on: Connection, id: string): Uint8Array | null {
  const row = on.one('SELECT passes FROM covers WHERE uuid = ?', id)
  return row === null ? null : bytesAt(row, 'passes')
}

export function readGaps(on: Connection): StoredGap[] {
  return on.all('SELECT id, area_m2, geom FROM gaps ORDER BY id').flatMap((row) => {
    const blob = bytesAt(row, 'geom')
    const polygon = blob === null ? undefined : decodePolygons(blob)?.[0]
    return polygon === undefined
      ? []
      : [{ id: numberAt(row, 'id') ?? 0, areaM2: numberAt(row, 'area_m2') ?? 0, polygon }]
  })
}
