import { SurveyError } from '#core/faults'
import type { Placement, TiePoint } from '#core/imagery'
import { numberAt, parsedJson, textAt } from './cells.ts'
import type { Cell, Connection, Row } from './connection.ts'
import { setGridOnce } from './identity.ts'
import { keepOriginal } from './keep-original.ts'
import type {
  LayerEdit,
  LayerFacts,
  LayerFile,
  LayerFileRole,
  LayerToAdd,
  OriginalFile,
  StoredLayer,
  StoredLayerFile,
} from './survey-file.ts'
import type { Writer } from './writer.ts'

type NewUuid = () => string

/** Which column holds which fact; those of JSON are written and read as such. */
const columnOf = {
  name: 'name',
  kind: 'kind',
  takenOn: 'taken_on',
  columns: 'columns',
  rows: 'rows',
  bands: 'bands',
  sampleType: 'sample_type',
  noData: 'no_data',
  orientation: 'orientation',
  nearInfraredBand: 'near_infrared_band',
  epsg: 'epsg',
  systemText: 'system_text',
  placing: 'placing',
  placedBy: 'placed_by',
  tiePoints: 'tie_points',
  expectedErrorM: 'expected_error_m',
  attribution: 'attribution',
} as const satisfies Record<keyof LayerFacts, string>

function cellsOf(facts: Partial<LayerFacts>): Record<string, Cell> {
  return Object.fromEntries(
    (Object.keys(columnOf) as (keyof LayerFacts)[]).flatMap((key): [string, Cell][] => {
      const value = facts[key]
      if (value === undefined) return []
      if (typeof value !== 'object' || value === null) return [[columnOf[key], value]]
      return [[columnOf[key], Array.isArray(value) && value.length === 0 ? null : JSON.stringify(value)]]
    }),
  )
}

function fileCells(file: LayerFile & { readonly originalId?: number | null }): Record<string, Cell> {
  return {
    role: file.role,
    name: file.name,
    path: file.path,
    relative_path: file.relativePath,
    sha256: file.sha256,
    size: file.size,
    original_id: file.originalId ?? null,
    first_column: file.firstColumn,
    first_row: file.firstRow,
  }
}

/** All layers with their files. Cost: two queries, and layers times files. */
export function readLayers(on: Connection): StoredLayer[] {
  const files = on.all('SELECT * FROM layer_files ORDER BY id')
  return on
    .all('SELECT * FROM layers ORDER BY id')
    .map((row) => storedLayer(row, files.filter((file) => file.layer_id === row.id).map(storedFile)))
}

/** Faults: SurveyError not-found. */
export function layerOf(on: Connection, id: number): StoredLayer {
  const row = on.one('SELECT * FROM layers WHERE id = ?', id)
  if (row === null) {
    throw new SurveyError('not-found', `There is no layer ${id} in the survey; it may have been removed.`)
  }
  const files = on.all('SELECT * FROM layer_files WHERE layer_id = ? ORDER BY id', id)
  return storedLayer(row, files.map(storedFile))
}

function storedFile(row: Row): StoredLayerFile {
  return {
    id: numberAt(row, 'id') ?? 0,
    role: (textAt(row, 'role') ?? 'raster') as LayerFileRole,
    name: textAt(row, 'name') ?? '',
    path: textAt(row, 'path') ?? '',
    relativePath: textAt(row, 'relative_path'),
    sha256: textAt(row, 'sha256') ?? '',
    size: numberAt(row, 'size') ?? 0,
    originalId: numberAt(row, 'original_id'),
    firstColumn: numberAt(row, 'first_column') ?? 0,
    firstRow: numberAt(row, 'first_row') ?? 0,
  }
}

function storedLayer(row: Row, files: readonly StoredLayerFile[]): StoredLayer {
  const json = (column: string): unknown => parsedJson(textAt(row, column) ?? 'null') ?? null
  const placedBy = textAt(row, 'placed_by')
  return {
    id: numberAt(row, 'id') ?? 0,
    uuid: textAt(row, 'uuid') ?? '',
    name: textAt(row, 'name') ?? '',
    kind: textAt(row, 'kind') === 'terrain' ? 'terrain' : 'image',
    takenOn: textAt(row, 'taken_on'),
    columns: numberAt(row, 'columns') ?? 0,
    rows: numberAt(row, 'rows') ?? 0,
    bands: numberAt(row, 'bands') ?? 0,
    sampleType: textAt(row, 'sample_type') ?? '',
    noData: numberAt(row, 'no_data'),
    orientation: numberAt(row, 'orientation') ?? 1,
    nearInfraredBand: numberAt(row, 'near_infrared_band'),
    epsg: numberAt(row, 'epsg'),
    systemText: textAt(row, 'system_text'),
    placing: placementOf(json('placing')),
    placedBy: placedBy === 'file' || placedBy === 'world-file' || placedBy === 'tie-points' ? placedBy : null,
    tiePoints: tiePointsOf(json('tie_points')),
    expectedErrorM: numberAt(row, 'expected_error_m'),
    attribution: textAt(row, 'attribution'),
    files,
  }
}

const isNumbers = (value: unknown, length: number): boolean =>
  Array.isArray(value) && value.length === length && value.every(Number.isFinite)

function placementOf(value: unknown): Placement | null {
  const { method, origin, toGround, toPicture } = (value ?? {}) as Partial<Placement>
  const whole = isNumbers(origin, 2) && isNumbers(toGround, 9) && isNumbers(toPicture, 9)
  return whole && (method === 'affine' || method === 'projective') ? (value as Placement) : null
}

function tiePointsOf(value: unknown): TiePoint[] {
  const keys = ['column', 'row', 'easting', 'northing'] as const
  const isPoint = (point: TiePoint | null): boolean => keys.every((key) => Number.isFinite(point?.[key]))
  return Array.isArray(value) && value.every(isPoint) ? value : []
}

export function writeLayer(writer: Writer, layer: LayerToAdd, uuid: NewUuid): StoredLayer {
  if (layer.gridEpsg !== undefined) setGridOnce(writer, layer.gridEpsg)
  const id = writer.insert('layers', { uuid: uuid(), ...cellsOf(layer) })
  for (const file of layer.files) {
    writer.insert('layer_files', { uuid: uuid(), layer_id: id, ...fileCells(file) })
  }
  return layerOf(writer.on, id)
}

/** Writes the facts that differ, and the files where they differ from those there are. */
export function changeLayer(writer: Writer, id: number, edit: LayerEdit, uuid: NewUuid): StoredLayer {
  const { on } = writer
  const { uuid: key } = layerOf(on, id)
  if (edit.gridEpsg !== undefined) setGridOnce(writer, edit.gridEpsg)
  const row = on.one('SELECT * FROM layers WHERE id = ?', id) ?? {}
  const patch = Object.entries(cellsOf(edit)).filter(([column, cell]) => row[column] !== cell)
  if (patch.length > 0) writer.update('layers', key, Object.fromEntries(patch))
  if (edit.files !== undefined) changeFiles(writer, id, edit.files, uuid)
  return layerOf(on, id)
}

/** Files are the same by role and hash; what else is said of them may change. */
function changeFiles(
  writer: Writer,
  id: number,
  files: NonNullable<LayerEdit['files']>,
  uuid: NewUuid,
): void {
  const old = new Map(
    writer.on
      .all('SELECT * FROM layer_files WHERE layer_id = ?', id)
      .map((row) => [`${row.role} ${row.sha256}`, row]),
  )
  for (const file of files) {
    const key = `${file.role} ${file.sha256}`
    const row = old.get(key)
    old.delete(key)
    if (row === undefined) {
      writer.insert('layer_files', { uuid: uuid(), layer_id: id, ...fileCells(file) })
      continue
    }
    const patch = Object.entries(fileCells(file)).filter(
      ([column, cell]) =>
        row[column] !== cell && !(column === 'original_id' && file.originalId === undefined),
    )
    if (patch.length > 0) writer.update('layer_files', String(row.uuid), Object.fromEntries(patch))
  }
  for (const row of old.values()) writer.remove('layer_files', String(row.uuid))
}

export function removeLayer(writer: Writer, id: number): void {
  const { uuid } = layerOf(writer.on, id)
  for (const row of writer.on.all('SELECT uuid FROM layer_files WHERE layer_id = ?', id)) {
    writer.remove('layer_files', String(row.uuid))
  }
  writer.remove('layers', uuid)
}

export function keepLayerFile(
  writer: Writer,
  id: number,
  original: OriginalFile,
  uuid: NewUuid,
): StoredLayer {
  const { on } = writer
  layerOf(on, id)
  const rows = on.all('SELECT * FROM layer_files WHERE layer_id = ? AND sha256 = ?', id, original.sha256)
  if (rows.length === 0) throw new RangeError(`layer ${id} has no file ${original.sha256}`)
  const originalId = keepOriginal(writer, original, uuid)
  for (const row of rows) {
    if (row.original_id !== originalId) {
      writer.update('layer_files', String(row.uuid), { original_id: originalId })
    }
  }
  return layerOf(on, id)
}
