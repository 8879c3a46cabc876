import type { FileContent } from '#core/record'
import type { ByteSource, Progress } from '#formats/bytes'
import { FaultList, quoted } from '#formats/fault-list'
import { localName, readXml } from '#formats/xml'
import { GpxReader } from './gpx-reader.ts'

export interface GpxOptions {
  /** The name the user knows the file by; stands in sentences. */
  readonly fileName: string
  readonly progress?: Progress
}

const longestText = 1_000_000

/**
 * Reads GPX 1.0 and 1.1, also with prefixed names or without a namespace, as a stream.
 *
 * trk becomes a track (walked), rte a planned line (walked: false), wpt a findspot. Times become seconds UTC; a time
 * without a zone is taken as UTC, which is said once. Height, time and hdop have columns of their own; every other value
 * of a fix is kept in `extras`, of a track or waypoint in `attributes`, under the path of its element. Points without a
 * usable position are left out and named by line. Where the file breaks off, what stood before is kept.
 *
 * CRS     EPSG:4326, longitude first, as recorded.
 * Limits  depth 64, a text of 1,000,000 characters, 20,000 kinds of element.
 * Cost    one pass; 48 bytes a fix while a track grows, and the text of its extras.
 * Source  Topografix GPX 1.1 schema; docs/methods/formats.md#gpx
 * Faults  SurveyError('unsafe-file') for a DOCTYPE that declares entities; all else is in `faults`.
 */
export function readGpx(source: ByteSource, options: GpxOptions): FileContent {
  return readGpxWith(source, options, true)
}

/** `readGpx`, with every fix through the parser where `shortCuts` is false: what the short cut is held against. */
export function readGpxWith(source: ByteSource, options: GpxOptions, shortCuts: boolean): FileContent {
  const faults = new FaultList()
  let reader: GpxReader | undefined
  const start = (line: () => number): GpxReader => {
    reader = new GpxReader(line, faults, shortCuts)
    return reader
  }
  readXml(source, options.fileName, faults, { text: longestText }, start, options.progress)
  const { root, tracks, findspots, areas } = finished(reader)
  if (root !== null && localName(root) !== 'gpx') {
    faults.note(null, 'unknown-kind', `The outermost element is ${quoted(root)}, not gpx; nothing was read.`)
  } else if (tracks.length + findspots.length + areas.length + faults.count === 0) {
    faults.note(null, 'empty-file', 'The file holds no track, route or waypoint.')
  }
  return { kind: 'gpx', tracks, areas, findspots, faults: faults.list() }
}

function finished(reader: GpxReader | undefined): GpxReader {
  if (reader === undefined) throw new TypeError('the reader was never started')
  reader.finish()
  return reader
}
