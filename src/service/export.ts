import { writeFileSync } from 'node:fs'
import path from 'node:path'
import type { ExportFormat, ExportReply, ExportWhat } from '#contract'
import { SurveyError } from '#core/faults'
import { openSurveyFile, type SurveyFile } from '#store'
import type { MadeFile } from './desk-service.ts'
import { type ExportWishes, exportContent } from './export-content.ts'
import { surveyGrid } from './ground.ts'
import { surroundings } from './surroundings.ts'
import { textOf } from './text-of.ts'

const mediaTypes: Record<ExportFormat, string> = {
  gpx: 'application/gpx+xml',
  kml: 'application/vnd.google-earth.kml+xml',
  geojson: 'application/geo+json',
  csv: 'text/csv; charset=utf-8',
}

const missing: Record<ExportWhat, string> = {
  areas: 'The survey has no search area yet.',
  findspots: 'The survey has no findspots yet.',
  finds: 'The survey has no finds yet.',
  marks: 'The survey has no marks yet that were not rejected.',
  targets: 'The survey has no targets yet.',
  lanes: 'The plan has no lanes.',
  gaps: 'There are no gaps to write: none has been found, or the cover has not been worked out yet.',
  tracks: 'The survey has no tracks yet.',
}

/** Part of a survey as a file, exact positions included. Faults: SurveyError('nothing-to-export'). */
export function exportFile(
  survey: SurveyFile,
  what: ExportWhat,
  format: ExportFormat,
  wishes: ExportWishes = {},
): MadeFile {
  const content = exportContent(survey, what, format, wishes)
  const features = content.areas.length + content.tracks.length + content.findspots.length
  if (features === 0) throw new SurveyError('nothing-to-export', missing[what])
  const stem = path.basename(survey.path, path.extname(survey.path))
  const title = `${survey.identity().title}: ${what}`
  return {
    fileName: `${stem}-${what}.${format}`,
    mediaType: mediaTypes[format],
    bytes: new TextEncoder().encode(textOf(content, format, title, surveyGrid(survey))),
    features,
  }
}

/** The same, from a survey file to a file. Faults also: 'cannot-write'. */
export function exportToFile(
  surveyPath: string,
  what: ExportWhat,
  format: ExportFormat,
  out: string,
  wishes: ExportWishes = {},
): ExportReply {
  const survey = openSurveyFile(surveyPath, surroundings, { readOnly: true })
  try {
    const { bytes, features } = exportFile(survey, what, format, wishes)
    writeOut(out, bytes)
    return { written: out, features }
  } finally {
    survey.close()
  }
}

/** Faults: SurveyError('cannot-write') with the reason. */
export function writeOut(file: string, bytes: Uint8Array | string): void {
  try {
    writeFileSync(file, bytes)
  } catch (cause) {
    const { code } = cause as NodeJS.ErrnoException
    const why =
      code === 'ENOENT'
        ? 'its folder does not exist'
        : code === 'ENOSPC'
          ? 'the disk is full'
          : `it cannot be written (${code})`
    throw new SurveyError(
      code === 'ENOSPC' ? 'disk-full' : 'cannot-write',
      `${file} was not written: ${why}.`,
      { cause },
    )
  }
}
