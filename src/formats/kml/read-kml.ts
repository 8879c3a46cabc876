import type { FileContent } from '#core/record'
import type { ByteSource, Progress } from '#formats/bytes'
import { FaultList } from '#formats/fault-list'
import { readXml } from '#formats/xml'
import { KmlReader } from './kml-reader.ts'

export interface KmlOptions {
  /** The name the user knows the file by; stands in sentences. */
  readonly fileName: string
  readonly progress?: Progress
}

/** A line or ring is one text in KML, so texts are far longer than in GPX: about 1.5 million positions. */
const longestText = 2 ** 26

/**
 * Reads KML 2.2 and 2.3, with the gx: extension, as a stream. A Placemark's polygons become one area, its lines and tracks
 * one track with segments, each of its points a findspot. ExtendedData, id, style and folder are kept as attributes, time
 * and description where they belong. Links are not followed, overlays and models not read; each is named by line.
 *
 * An open ring is closed; a ring with a position that cannot be read costs its polygon, a line only that position.
 *
 * CRS     EPSG:4326, longitude first.
 * Cost    one pass; memory of one Placemark besides the result.
 * Source  OGC 12-007r2 (KML 2.3); docs/methods/formats.md#kml
 * Faults  SurveyError('unsafe-file') for a DOCTYPE that declares entities; all else is in `faults`.
 */
export function readKml(source: ByteSource, options: KmlOptions): FileContent {
  const faults = new FaultList()
  const readers: KmlReader[] = []
  const start = (line: () => number): KmlReader => {
    const reader = new KmlReader(line, faults)
    readers.push(reader)
    return reader
  }
  readXml(source, options.fileName, faults, { text: longestText }, start, options.progress)
  const reader = readers.at(-1)!
  reader.finish()
  const { tracks, areas, findspots } = reader
  if (tracks.length + areas.length + findspots.length + faults.count === 0) {
    faults.note(null, 'empty-file', 'The file holds no Placemark with a position.')
  }
  return { kind: 'kml', tracks, areas, findspots, faults: faults.list() }
}
