import { type FileFault, SurveyError } from '#core/faults'
import type { FileContent } from '#core/record'
import { type ByteSource, bytesFrom } from '#formats/bytes'
import { escapes, zipEntries, zipEntryBytes } from '#formats/zip'
import { type KmlOptions, readKml } from './read-kml.ts'

/**
 * Reads the main file of a KMZ (a zip archive): `doc.kml` at its top, else the first KML file in it. Nothing is written to
 * disk; entries whose names point outside the archive are not read. Bounds: see `zipEntryBytes`.
 *
 * Faults: SurveyError('broken-file'), ('unsafe-file'), ('unknown-kind') where no KML is inside; else as `readKml`.
 */
export function readKmz(source: ByteSource, options: KmlOptions): FileContent {
  const bytes = bytesFrom(source)
  const { fileName } = options
  const names = zipEntries(bytes, fileName).map(({ name }) => name)
  const outside = names.filter(escapes)
  const inside = names.filter((name) => /\.kml$/i.test(name) && !escapes(name))
  const main = inside.find((name) => name.toLowerCase() === 'doc.kml') ?? inside[0]
  const kml = main === undefined ? null : zipEntryBytes(bytes, main, fileName)
  if (kml === null) throw new SurveyError('unknown-kind', `${fileName} holds no KML file.`)
  const faults: FileFault[] = []
  if (outside.length > 0) {
    const text = `${outside.length} of its entries point outside the archive and were not read.`
    faults.push({ line: null, code: 'unsafe-file', text })
  }
  if (inside.length > 1) {
    const text = `Only ${main} was read; ${inside.length - 1} more KML ${inside.length === 2 ? 'file lies' : 'files lie'} beside it.`
    faults.push({ line: null, code: 'unsupported-feature', text })
  }
  const content = readKml(kml, options)
  return { ...content, kind: 'kmz', faults: [...content.faults, ...faults] }
}
