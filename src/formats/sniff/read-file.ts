import { type FaultCode, type FileFault, SurveyError } from '#core/faults'
import type { FileContent, FileKind } from '#core/record'
import { type ByteSource, bytesFrom, decodedText, headOf, type Progress } from '#formats/bytes'
import { readCsv } from '#formats/csv'
import { FaultList } from '#formats/fault-list'
import { readGeoJson } from '#formats/geojson'
import { readGpx } from '#formats/gpx'
import { readKml, readKmz } from '#formats/kml'
import { readShapefile } from '#formats/shapefile'
import { gunzipped, zipEntries } from '#formats/zip'
import { kindOfText } from './kind-of.ts'
import { isGzip, isZip, knownStranger } from './magic.ts'

export interface ReadOptions {
  /** Told how many bytes have been read. */
  readonly progress?: Progress
  /** Grid of eastings and northings in a table that does not name one; see CsvOptions. */
  readonly epsg?: number
}

const headBytes = 4096

const extensions: Readonly<Record<FileKind, readonly string[]>> = {
  gpx: ['gpx'],
  kml: ['kml'],
  kmz: ['kmz'],
  geojson: ['geojson', 'json', 'jsonld'],
  csv: ['csv', 'tsv', 'tab'],
  shapefile: ['zip', 'shz'],
}
/** Extensions that promise no format. */
const neutral = new Set(['', 'txt', 'xml', 'dat', 'log', 'bak', 'old', 'tmp', 'download'])

/**
 * Reads a file of any kind that is understood. The bytes say which; the name is believed only where they do not, and a
 * name that says otherwise is noted ('wrong-extension'). A gzip around the file is taken off first.
 *
 * Cost    that of the reader; GPX and KML are read as streams, the others as a whole.
 * Faults  SurveyError('empty-file'), ('unknown-kind') and ('unknown-system') where there is nothing to read, ('unsafe-file') for entity
 *         declarations and for archives made to swell, ('broken-file') for an archive that cannot be opened,
 *         ('file-too-large'). All else is in `faults`.
 */
export function readFile(name: string, source: ByteSource, options: ReadOptions = {}): FileContent {
  const { head, source: all } = headOf(source, headBytes)
  if (!isGzip(head)) return checked(name, readUnpacked(name, name, all, options))
  const packing = new FaultList()
  const inner = gunzipped(all, name, packing, options.progress)
  const content = readUnpacked(name, name.replace(/\.(gz|gzip)$/i, ''), inner, {})
  return checked(name, { ...content, faults: [...content.faults, ...packing.list()] })
}

/** `inner` is the name without the ending of an outer packing. */
function readUnpacked(name: string, inner: string, source: ByteSource, options: ReadOptions): FileContent {
  const { head, source: all } = headOf(source, headBytes)
  if (head.length === 0) throw new SurveyError('empty-file', `${name} is empty.`)
  const stranger = isGzip(head) ? 'packed more than once; unpack it first' : knownStranger(head)
  if (stranger !== null) throw unknown(name, stranger)
  const extension = (/\.([A-Za-z0-9]{1,10})$/.exec(inner)?.[1] ?? '').toLowerCase()
  const content = isZip(head)
    ? readZip(name, extension, all, options)
    : readText(name, extension, head, all, options)
  return { ...content, faults: [...extensionNote(extension, content.kind), ...content.faults] }
}

/** An archive of shapefiles may hold KML of the same besides; one that calls itself KMZ is read as that. */
function readZip(name: string, extension: string, source: ByteSource, options: ReadOptions): FileContent {
  const bytes = bytesFrom(source)
  const names = zipEntries(bytes, name).map((entry) => entry.name.toLowerCase())
  const holds = (ending: string): boolean => names.some((entry) => entry.endsWith(ending))
  if (holds('.shp') && !(extension === 'kmz' && holds('.kml'))) {
    return readShapefile(bytes, { ...options, fileName: name })
  }
  if (holds('.kml')) return readKmz(bytes, { ...options, fileName: name })
  if (holds('[content_types].xml')) throw unknown(name, 'an office document; save the table as CSV')
  throw unknown(name, 'a zip archive without KML or a shapefile in it; unpack it first')
}

function readText(
  name: string,
  extension: string,
  head: Uint8Array,
  source: ByteSource,
  options: ReadOptions,
): FileContent {
  const start = [...decodedText(head, () => {})].join('')
  if (start.trim() === '' && head.length < headBytes) {
    throw new SurveyError('empty-file', `${name} holds nothing but white space.`)
  }
  const found = kindOfText(start, extension)
  const readerOptions = { ...options, fileName: name }
  switch (found.kind) {
    case null:
      throw unknown(name, found.is)
    case 'gpx':
      return readGpx(source, readerOptions)
    case 'geojson':
      return readGeoJson(source, readerOptions)
    case 'kml':
      return readKml(source, readerOptions)
    case 'text':
      return readPlainText(extension, source, readerOptions)
  }
}

/** Text that is neither XML nor JSON: a table, unless its name says that it ought to be one of those and it is no table. */
function readPlainText(
  extension: string,
  source: ByteSource,
  options: ReadOptions & { fileName: string },
): FileContent {
  const bytes = bytesFrom(source)
  const content = readCsv(bytes, options)
  if (!content.faults.some(({ code }) => code === 'missing-columns') || extensions.csv.includes(extension)) {
    return content
  }
  if (extension === 'kml') return readKml(bytes, options)
  if (extension === 'gpx') return readGpx(bytes, options)
  if (extensions.geojson.includes(extension)) return readGeoJson(bytes, options)
  throw unknown(options.fileName, 'text, but no table with positions')
}

function unknown(name: string, is: string): SurveyError {
  return new SurveyError(
    'unknown-kind',
    `${name} cannot be read: it is ${is}. GPX, KML, KMZ, GeoJSON, CSV and shapefiles in a zip can be.`,
  )
}

function extensionNote(extension: string, kind: FileKind): FileFault[] {
  if (neutral.has(extension) || extensions[kind].includes(extension)) return []
  const what = kind === 'shapefile' ? 'a zipped shapefile' : kind.toUpperCase()
  const text = `The name ends in .${extension}, but this is ${what}; it was read as that.`
  return [{ line: null, code: 'wrong-extension', text }]
}

/** Where nothing at all came of a file, the reason is thrown, so that no kind is claimed for it. */
function checked(name: string, content: FileContent): FileContent {
  if (content.tracks.length + content.areas.length + content.findspots.length > 0) return content
  const hopeless: readonly FaultCode[] = ['unknown-kind', 'empty-file', 'unknown-system']
  const fault = content.faults.find(({ code }) => hopeless.includes(code))
  if (fault !== undefined) throw new SurveyError(fault.code, `${name}: ${fault.text}`)
  return content
}
