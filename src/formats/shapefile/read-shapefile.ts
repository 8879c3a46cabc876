import type { FileContent } from '#core/record'
import { type ByteSource, bytesFrom, type Progress } from '#formats/bytes'
import { FaultList } from '#formats/fault-list'
import { keepAttribute } from '#formats/track'
import { type AttributeTable, attributeTable } from './attribute-table.ts'
import { type LayerFiles, layerFiles, partText } from './layer-files.ts'
import { LayerReader } from './layer-reader.ts'
import { layerSystem } from './layer-system.ts'
import { shapeAt } from './record-shape.ts'
import { isMainFile, type RecordSpans, recordSpans } from './record-spans.ts'

export interface ShapefileOptions {
  /** The name the user knows the file by; stands in sentences. */
  readonly fileName: string
  readonly progress?: Progress
}

/** Values of tables that are kept, of one archive: a table packs a thousandfold, and each value takes some 100 bytes here. */
const mostValues = 5_000_000

interface Room {
  values: number
  /** Shapes whose row found no room. */
  without: number
}

/**
 * Reads the shapefiles in a zip archive: polygons become areas, lines walked tracks (a part a segment), points findspots. Values of
 * the table become attributes as text. A record that is null, cut short or contradicts itself is left out and named by its number;
 * the rest is kept. Several layers are read one after another, each in its own system, and keep their names as attribute `layer`.
 *
 * CRS     the grid that the .prj states if `planarGrid` knows it; EPSG:4326 for all others, converted.
 * Cost    one layer unpacked at a time, one pass.
 * Source  ESRI Shapefile Technical Description, July 1998; docs/methods/formats.md#shapefile
 * Faults  SurveyError of the archive: 'broken-file', 'unsafe-file', 'unknown-kind' where no .shp is in it; all else is in `faults`.
 */
export function readShapefile(source: ByteSource, { fileName, progress }: ShapefileOptions): FileContent {
  const archive = bytesFrom(source)
  const faults = new FaultList()
  const layers = layerFiles(archive, fileName, faults)
  const reader = new LayerReader(faults)
  const room: Room = { values: mostValues, without: 0 }
  layers.forEach((layer, i) => {
    readLayer(layer, layers.length > 1, reader, faults, room)
    progress?.(Math.round((archive.length * (i + 1)) / layers.length))
  })
  reader.finish()
  if (room.without > 0) {
    const text = `Only the first ${mostValues} values of its tables were read; ${room.without} shapes come without attributes.`
    faults.note(null, 'file-too-large', text)
  }
  const { tracks, areas, findspots } = reader
  if (tracks.length + areas.length + findspots.length + faults.count === 0) {
    faults.note(null, 'empty-file', 'The shapefile holds no record.')
  }
  return { kind: 'shapefile', tracks, areas, findspots, faults: faults.list() }
}

function readLayer(
  layer: LayerFiles,
  oneOfSeveral: boolean,
  reader: LayerReader,
  faults: FaultList,
  room: Room,
): void {
  const shp = layer.bytes('shp')
  if (shp === null) return
  if (!isMainFile(shp)) {
    faults.note(null, 'broken-file', `${layer.shp} does not begin as a shapefile does; it was not read.`)
    return
  }
  const spans = recordSpans(shp, layer.bytes('shx'))
  for (const { code, text } of spans.flaws) faults.note(null, code, `${layer.shp} ${text}.`)
  const system = layerSystem(layer, shp, spans, faults)
  if (system === null) return
  const table = tableOf(layer, spans, faults)
  let deleted = 0
  for (let i = 0; i < spans.from.length; i++) {
    const row = table !== null && i < table.rows ? rowWithin(room, table, i) : []
    if (row === null) {
      deleted++
      continue
    }
    const what = `Record ${i + 1} of ${layer.shp}`
    const shape = shapeAt(shp, spans, i)
    if ('code' in shape) {
      faults.add(null, shape.code, `${what} was left out: ${shape.text}.`)
      continue
    }
    const texts = new Map<string, string>()
    for (const [name, text] of row) keepAttribute(texts, name, text)
    if (oneOfSeveral) keepAttribute(texts, 'layer', layer.shp.slice(0, -4))
    reader.record({ what, shape, texts }, system)
  }
  if (deleted > 0) {
    const are = deleted === 1 ? 'One record is' : `${deleted} records are`
    faults.note(null, 'unsupported-feature', `${are} marked as deleted in ${layer.nameOf('dbf')}; left out.`)
  }
}

/** A row while there is room; then none. */
function rowWithin(room: Room, table: AttributeTable, i: number): [string, string][] | null {
  if (room.values === 0) {
    room.without++
    return []
  }
  const row = table.row(i)
  room.values = Math.max(0, room.values - (row?.length ?? 0))
  return row
}

/** The attributes of a layer; that there are none, or fewer than records, is told. */
function tableOf(layer: LayerFiles, spans: RecordSpans, faults: FaultList): AttributeTable | null {
  const name = layer.nameOf('dbf')
  if (!layer.has('dbf')) {
    faults.note(
      null,
      'missing-part',
      `${name} is not in the archive, so nothing is known of the shapes but where they are.`,
    )
    return null
  }
  const dbf = layer.bytes('dbf')
  if (dbf === null) return null
  const cpg = layer.bytes('cpg')
  const table = attributeTable(dbf, cpg === null ? null : partText(cpg))
  if (table === null) {
    faults.note(null, 'broken-file', `${name} is no dBASE table; the shapes come without attributes.`)
    return null
  }
  for (const { code, text } of table.flaws) faults.note(null, code, `${name} ${text}.`)
  if (table.rows !== spans.from.length && table.flaws.every(({ code }) => code !== 'broken-file')) {
    const text = `${name} has ${table.rows} rows for ${spans.from.length} shapes; they were matched in order.`
    faults.note(null, 'broken-file', text)
  }
  return table
}
