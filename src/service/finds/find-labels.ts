import path from 'node:path'
import { type LabelsRequest, labelsRequestShape } from '#contract'
import { SurveyError } from '#core/faults'
import { type LabelStock, labelStocks, rollStock } from '#core/labels'
import { findLabels, type LabelContent } from '#report'
import { type CataloguedFind, openSurveyFile, type SurveyFile } from '#store'
import type { MadeFile } from '../desk-service.ts'
import { writeOut } from '../export.ts'
import { surveyGrid } from '../ground.ts'
import { surroundings } from '../surroundings.ts'
import { honestGridRef, planarFindspot } from '../views.ts'

/** The paper that a key names. Faults: SurveyError 'setting-out-of-range' with the keys there are. */
function labelStock(key: string): LabelStock {
  const known = labelStocks.find((stock) => stock.key === key)
  if (known) return known
  const roll = /^roll-(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)$/.exec(key)
  try {
    if (roll) return rollStock(Number(roll[1]), Number(roll[2]))
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    throw new SurveyError(
      'setting-out-of-range',
      `A label of ${roll![1]} x ${roll![2]} mm is too small or too large.`,
    )
  }
  const keys = labelStocks.map((stock) => stock.key).join(', ')
  throw new SurveyError(
    'setting-out-of-range',
    `There is no label paper "${key}": take one of ${keys}, or roll-WIDTHxHEIGHT in millimetres.`,
  )
}

function contentOf(survey: SurveyFile): (find: CataloguedFind) => LabelContent {
  const grid = surveyGrid(survey)
  return ({ record, foundAt }) => {
    const planar = foundAt && grid && planarFindspot(foundAt, grid)
    const british = grid?.epsg === 27_700
    const place =
      planar &&
      (british ? honestGridRef(planar[0], planar[1], foundAt.accuracyM) : planar.map(Math.round).join(' '))
    const material = record.materials.map(({ text }) => text).join(', ')
    const text = [record.objectType?.text, material, record.period?.text].filter(Boolean).join(', ')
    return {
      number: record.number,
      gridRef: place ?? null,
      date: foundAt?.time == null ? null : new Date(foundAt.time * 1000).toISOString().slice(0, 10),
      text: text === '' ? null : text,
      blank: false,
    }
  }
}

const blankLabel = (number: string): LabelContent => ({
  number,
  gridRef: null,
  date: null,
  text: null,
  blank: true,
})

/** The labels asked for; for blank ones fresh numbers are given out and noted. */
function labelsWanted(survey: SurveyFile, request: LabelsRequest): LabelContent[] {
  const { ids = [], blank = 0, again = [] } = request
  const { catalogue } = survey
  if (blank > 0) {
    const year = surroundings.now().getUTCFullYear()
    return catalogue.reserve(year, blank, 'blank label').map(blankLabel)
  }
  if (again.length > 0) {
    const known = new Set(catalogue.numberNotes().map(({ number }) => number))
    const stranger = again.find((number) => !known.has(number))
    if (stranger !== undefined) {
      throw new SurveyError(
        'not-found',
        `${stranger} is no blank label of this survey, so it cannot be printed again.`,
      )
    }
    return again.map(blankLabel)
  }
  const content = contentOf(survey)
  return ids.map((id) => content(catalogue.one(id)))
}

/**
 * Labels as PDF. Faults: SurveyError 'nothing-to-export' for no label at all, 'not-found', 'setting-out-of-range' for unknown paper or more labels
 * left out than a sheet has.
 */
export async function labelsPdf(
  survey: SurveyFile,
  request: LabelsRequest,
): Promise<MadeFile & { readonly numbers: readonly string[] }> {
  const { sheet, code, skip, shiftX, shiftY } = labelsRequestShape.parse(request)
  const stock = labelStock(sheet)
  if (skip >= stock.columns * stock.rows) {
    throw new SurveyError(
      'setting-out-of-range',
      `A sheet has ${stock.columns * stock.rows} labels; ${skip} cannot be left out.`,
    )
  }
  const labels = labelsWanted(survey, request)
  if (labels.length === 0) {
    throw new SurveyError(
      'nothing-to-export',
      'There is no find to print a label for: enter finds, or ask for blank labels.',
    )
  }
  const { uuid, code: surveyCode, demo } = survey.identity()
  const bytes = await findLabels({
    survey: { uuid, code: surveyCode, demo },
    labels,
    stock,
    code,
    skip,
    shiftMm: { x: shiftX, y: shiftY },
    madeAt: surroundings.now(),
  })
  const stem = path.basename(survey.path, path.extname(survey.path))
  return {
    fileName: `${stem}-labels.pdf`,
    mediaType: 'application/pdf',
    bytes,
    features: labels.length,
    numbers: labels.map(({ number }) => number),
  }
}

export interface LabelsWishes {
  /** Undefined: `NAME-labels.pdf` in the working folder. */
  readonly out?: string
  readonly sheet: string
  readonly code: 'data-matrix' | 'qr'
  readonly skip: number
  /** 0: labels for the finds of the survey. */
  readonly blank: number
}

const mostLabels = 5000

/** Labels of a survey file as a PDF file: of all finds, or blank ones. Faults: also 'cannot-write'. */
export async function labelsToFile(
  surveyPath: string,
  { out, blank, ...how }: LabelsWishes,
): Promise<{ written: string; pages: number; labels: number; numbers: readonly string[] }> {
  const survey = openSurveyFile(surveyPath, surroundings, { readOnly: blank === 0 })
  try {
    const ids = blank > 0 ? [] : survey.catalogue.all().map(({ id }) => id)
    if (ids.length > mostLabels) {
      throw new SurveyError(
        'setting-out-of-range',
        `The survey has ${ids.length} finds; at most ${mostLabels} labels are printed at once: choose finds on the desk.`,
      )
    }
    const made = await labelsPdf(survey, { ids, blank, ...how })
    const file = out ?? made.fileName
    writeOut(file, made.bytes)
    const stock = labelStock(how.sheet)
    const pages = Math.ceil((made.features + how.skip) / (stock.columns * stock.rows))
    return { written: file, pages, labels: made.features, numbers: made.numbers }
  } finally {
    survey.close()
  }
}
