import { statSync } from 'node:fs'
import path from 'node:path'
import type { Added, ImportedFile, ImportReply } from '#contract'
import { type FileFault, isSurveyError, SurveyError } from '#core/faults'
import { createSurveyFile, openSurveyFile, type SurveyFile } from '#store'
import { readFileInThread, type WorkOptions } from '#work'
import { averagedFindspots } from './averaged-findspots.ts'
import { isFindsTable, takeTable } from './finds/find-tables.ts'
import { surveyGrid } from './ground.ts'
import { importLayerFile, type LayerWishes } from './layers/import-layer-file.ts'
import { rasterKindOf } from './layers/raster-kind.ts'
import { sidecarsGiven, takenOrder } from './layers/sidecars.ts'
import { gridOfContent, placeContent } from './place.ts'
import { surroundings } from './surroundings.ts'

const nothing: Added = { tracks: 0, fixes: 0, findspots: 0, areas: 0, finds: 0, layers: 0, photos: 0 }

/** Reading takes this share of an import's time, about; the rest is placing and storing. */
const readingShare = 0.8

/**
 * Brings one file into an open survey: reads it in a thread, places what it holds in the survey's grid and stores it whole in
 * one step; images and terrain models become layers, by reference. A file in which nothing could be read has kind null and one fault;
 * then nothing is stored.
 */
export async function importFile(
  survey: SurveyFile,
  name: string,
  file: string,
  options: WorkOptions & LayerWishes = {},
): Promise<ImportedFile> {
  try {
    const raster = rasterKindOf(name, file)
    if (raster !== null) return await importLayerFile(survey, raster, name, file, options)
    if (isFindsTable(name, file)) return await importTable(survey, name, file)
    const { progress, signal } = options
    return await importRecords(survey, name, file, {
      ...(progress ? { progress } : {}),
      ...(signal ? { signal } : {}),
    })
  } catch (error) {
    if (!isSurveyError(error) || !unreadable.has(error.code)) throw error
    return reply(name, '', null, nothing, [{ line: null, code: error.code, text: error.message }])
  }
}

/** A table of the catalogue: finds that the survey has are changed, those it has not are added. */
async function importTable(survey: SurveyFile, name: string, file: string): Promise<ImportedFile> {
  const { reply: told, sha256 } = await takeTable(survey, name, file, { write: true })
  const nothingNew = told.adds === 0 && told.changes === 0
  const changed: FileFault[] =
    told.changes === 0
      ? []
      : [
          {
            line: null,
            code: 'assumed',
            text: `${told.changes} find${told.changes === 1 ? ' was' : 's were'} changed to what the table says; Undo takes it back.`,
          },
        ]
  const faults = [...changed, ...(told.faults as readonly FileFault[])]
  const placed = { findspots: told.placed, finds: told.adds }
  return {
    ...reply(
      name,
      sha256,
      told.columns.length === 0 ? null : 'finds-table',
      { ...nothing, ...placed },
      faults,
    ),
    alreadyThere: nothingNew && told.same > 0,
  }
}

/** Tracks, areas, findspots: everything but layers. */
async function importRecords(
  survey: SurveyFile,
  name: string,
  file: string,
  { progress, ...options }: WorkOptions,
): Promise<ImportedFile> {
  const grid = surveyGrid(survey)
  const told = {
    ...(grid ? { epsg: grid.epsg } : {}),
    ...options,
    progress: (done: number, label: string) => progress?.(done * readingShare, label),
  }
  const { bytes, sha256, content } = await readFileInThread(name, file, told)
  const known = survey.hasOriginal(sha256)
  if (known) return { ...reply(name, sha256, content.kind, nothing, []), alreadyThere: true }
  progress?.(readingShare, `placing what ${name} holds`)
  const averaged = averagedFindspots(content.findspots, grid ?? gridOfContent(content))
  const { placed, faults, bounds } = placeContent({ ...content, findspots: averaged.findspots }, grid)
  const { added, alreadyThere, renumbered } = survey.addFile(
    { name, kind: content.kind, bytes, sha256 },
    placed,
  )
  const numbered = renumbered.map(
    ({ given, number }): FileFault => ({
      line: null,
      code: 'bad-value',
      text: `Find number ${given} is taken or not of the form CODE-YEAR-NNN: that find is now ${number}, the given number is kept beside it.`,
    }),
  )
  const box: ImportedFile['bounds'] = bounds && [bounds.minX, bounds.minY, bounds.maxX, bounds.maxY]
  return {
    ...reply(name, sha256, content.kind, { ...nothing, ...added }, [
      ...content.faults,
      ...averaged.faults,
      ...faults,
      ...numbered,
    ]),
    alreadyThere,
    bounds: box,
  }
}

/** Faults that belong to the file alone, not to the survey or the machine. */
const unreadable: ReadonlySet<string> = new Set<FileFault['code']>([
  'empty-file',
  'unknown-kind',
  'broken-file',
  'unsafe-file',
  'file-too-large',
  'missing-columns',
  'unknown-system',
  'raster-too-large',
  'unsupported-feature',
  'bad-value',
])

function reply(
  name: string,
  sha256: string,
  kind: string | null,
  added: Added,
  faults: readonly FileFault[],
): ImportedFile {
  return { name, sha256, kind, added, alreadyThere: false, faults: [...faults], bounds: null }
}

/**
 * Brings files into the survey at `surveyPath`, one after another; a survey that does not exist is made, named after its
 * file. One bad file does not stop the rest.
 */
export async function importFiles(
  surveyPath: string,
  files: readonly string[],
  options: WorkOptions & Pick<LayerWishes, 'epsg'> = {},
): Promise<ImportReply> {
  for (const file of files) {
    if (!statSync(file, { throwIfNoEntry: false })?.isFile()) {
      throw new SurveyError('not-found', `There is no file ${file}; nothing was imported.`)
    }
  }
  const survey = openOrCreate(surveyPath)
  try {
    const beside = sidecarsGiven(files)
    const together = beside.map(({ name }) => name)
    const replies = new Map<string, ImportedFile>()
    for (const [i, file] of takenOrder(files).entries()) {
      const progress = (done: number, label: string): void =>
        options.progress?.((i + done) / files.length, label)
      const wishes = { ...options, progress, beside, together }
      replies.set(file, await importFile(survey, path.basename(file), file, wishes))
    }
    return { files: files.map((file) => replies.get(file)!) }
  } finally {
    survey.close()
  }
}

function openOrCreate(surveyPath: string): SurveyFile {
  if (statSync(surveyPath, { throwIfNoEntry: false })) return openSurveyFile(surveyPath, surroundings)
  const title = path.basename(surveyPath, path.extname(surveyPath))
  return createSurveyFile(surveyPath, { code: codeFrom(title), title, demo: false }, surroundings)
}

/** A survey code made of a title: up to five of its capitals and digits after a leading letter, else 'SUR'. */
function codeFrom(title: string): string {
  const letters = title
    .toUpperCase()
    .replace(/[^A-Z0-9]/g, '')
    .replace(/^[0-9]+/, '')
    .slice(0, 5)
  return letters.length >= 2 ? letters : 'SUR'
}
