import type {
  BulkEdit,
  FindEditRequest,
  FindList,
  FindsExport,
  FindsTableReply,
  FindView,
  History,
  JoinEdit,
  JoinView,
  LabelsRequest,
  NewEvent,
  NewFind,
  NumberNoteRequest,
  Numbers,
  ObjectList,
  ObjectListReply,
  PhotographEdit,
  PhotographReply,
  PhotographView,
  ProposedJoins,
  ProposeJoins,
  RecordPatch,
  Vocabularies,
} from '#contract'
import { SurveyError } from '#core/faults'
import { findFields, type PhotographRole, visitNames } from '#core/finds'
import type { CataloguedFind, FindCatalogue, StoredPhotograph, SurveyFile } from '#store'
import type { MadeFile } from '../desk-service.ts'
import { surveyGrid } from '../ground.ts'
import { surroundings } from '../surroundings.ts'
import { exportFinds } from './find-exports.ts'
import { findHistory } from './find-history.ts'
import { decideJoin, joinTogether, joinViews, lookForJoins, partFinds } from './find-joins.ts'
import { labelsPdf } from './find-labels.ts'
import { findNamed } from './find-named.ts'
import { placedFindspot } from './find-place.ts'
import { type TableWishes, takeTable } from './find-tables.ts'
import { findList, findView } from './find-views.ts'
import type { FindsService } from './finds-service.ts'
import { numbersOf } from './numbers.ts'
import { objectList, takeObjectList } from './object-list.ts'
import { keepBeside, lookAtPhotograph, photographFile, screenPicture } from './photograph-files.ts'
import { vocabularies } from './vocabularies.ts'

/** The fields of a patch in words: 'weight, condition'. */
function fieldsInWords(patch: RecordPatch): string {
  const labels = (Object.keys(patch) as (keyof RecordPatch)[]).map((field) => findFields[field].label)
  return labels
    .map((label) => label.replace(/ \(.*\)$/, '').toLowerCase())
    .slice(0, 4)
    .join(', ')
}

const countWords = (count: number): string => `${count} find${count === 1 ? '' : 's'}`

/** The finds of one open survey. What each method does is said at `FindsService`. */
export class FindsOfSurvey implements FindsService {
  readonly #survey: SurveyFile
  readonly #catalogue: FindCatalogue
  readonly #changed: () => void

  constructor(survey: SurveyFile, changed: () => void) {
    this.#survey = survey
    this.#catalogue = survey.catalogue
    this.#changed = changed
  }

  list(): FindList {
    const grid = surveyGrid(this.#survey)
    return findList(this.#catalogue.light(grid?.epsg ?? null), grid, visitNames(this.#survey.visits()))
  }

  one(id: number): FindView {
    return this.#view(this.#catalogue.one(id))
  }

  named(text: string): FindView {
    return this.#view(findNamed(this.#survey, text))
  }

  add({ record, place, findspot }: NewFind): FindView {
    const foundAt = place ? placedFindspot(place, surveyGrid(this.#survey), null) : null
    const at = findspot === undefined ? {} : { findspot: this.#findspotUuid(findspot) }
    const [added] = this.#catalogue.add([{ record: { ...record, ...at }, foundAt }], 'entry of a find')
    this.#changed()
    return this.#view(added!)
  }

  change(id: number, { record = {}, place }: FindEditRequest): FindView {
    const before = this.#catalogue.one(id)
    const grid = surveyGrid(this.#survey)
    const foundAt = place ? placedFindspot(place, grid, before.foundAt) : place
    const what = [fieldsInWords(record), ...(place === undefined ? [] : ['findspot'])]
      .filter(Boolean)
      .join(', ')
    const edit = { id, patch: record, ...(foundAt === undefined ? {} : { foundAt }) }
    this.#catalogue.change([edit], `change of ${before.record.number}: ${what}`)
    this.#changed()
    return this.one(id)
  }

  changeMany({ ids, record }: BulkEdit): void {
    if (record.number !== undefined) {
      throw new SurveyError(
        'number-taken',
        'Many finds cannot be given one number: change numbers one by one.',
      )
    }
    this.#catalogue.change(
      ids.map((id) => ({ id, patch: record })),
      `change of ${countWords(ids.length)}: ${fieldsInWords(record)}`,
    )
    this.#changed()
  }

  remove(ids: readonly number[]): void {
    const first = this.#catalogue.one(ids[0]!)
    const what = ids.length === 1 ? first.record.number : countWords(ids.length)
    this.#catalogue.remove(ids, `removal of ${what}`)
    this.#changed()
  }

  history(id: number): History {
    return findHistory(this.#catalogue.events(id), this.#catalogue.changes(id))
  }

  addEvent({ ids, ...event }: NewEvent): void {
    this.#catalogue.addEvent(ids, event, `${event.kind}: ${countWords(ids.length)}`)
    this.#changed()
  }

  async addPhotograph(
    find: number,
    name: string,
    role: PhotographRole,
    path: string,
  ): Promise<PhotographReply> {
    const { uuid } = this.#catalogue.one(find)
    const looked = await lookAtPhotograph(name, path)
    const same = this.#catalogue.photographsWith(looked.sha256)
    const own = same.find(({ findUuid }) => findUuid === uuid)
    const others = new Set(same.map(({ findUuid }) => findUuid).filter((other) => other !== uuid))
    const alsoOf = others.size === 0 ? [] : this.#numbersOf(others)
    if (own) return { photograph: this.#photograph(own), alreadyThere: true, alsoOf }
    const [kept] = same
    const lies =
      kept && photographFile(this.#survey.path, kept) !== null
        ? { path: kept.path, relativePath: kept.relativePath }
        : keepBeside(this.#survey.path, name, path)
    const facts = { name: kept?.name ?? name, role, note: null, mmPerPixel: null, scaleLine: null }
    const stored = this.#catalogue.addPhotograph(find, { ...looked, ...facts, ...lies }, null)
    this.#changed()
    return { photograph: this.#photograph(stored), alreadyThere: false, alsoOf }
  }

  changePhotograph(id: number, { scaleLine, ...edit }: PhotographEdit): PhotographView {
    const patch = scaleLine === undefined ? edit : { ...edit, scaleLine, mmPerPixel: scaleOf(scaleLine) }
    const stored = this.#catalogue.changePhotograph(id, patch)
    this.#changed()
    return this.#photograph(stored)
  }

  removePhotograph(id: number): void {
    this.#catalogue.removePhotograph(id)
    this.#changed()
  }

  async picture(id: number, size: 'small' | 'screen'): Promise<Uint8Array> {
    if (size === 'small') return this.#catalogue.thumbnail(id)
    const photograph = this.#catalogue.photograph(id)
    const { name, originalId } = photograph
    if (originalId !== null) return screenPicture(name, this.#survey.originalBytes(originalId))
    const file = photographFile(this.#survey.path, photograph)
    if (file === null) {
      throw new SurveyError(
        'not-found',
        `The file of ${name} is no longer where it was (${photograph.path}): put it back, or beside the survey.`,
      )
    }
    return screenPicture(name, file)
  }

  numbers(): Numbers {
    const { code } = this.#survey.identity()
    return numbersOf(this.#catalogue, code, surroundings.now().getUTCFullYear())
  }

  noteNumber({ number, state, note }: NumberNoteRequest): void {
    if (this.#catalogue.withNumber(number) !== null) {
      throw new SurveyError('number-taken', `${number} is borne by a find, so it cannot be struck out.`)
    }
    this.#catalogue.noteNumber(number, state, note)
    this.#changed()
  }

  joins(): JoinView[] {
    return joinViews(this.#catalogue, surveyGrid(this.#survey))
  }

  proposeJoins(how: ProposeJoins): ProposedJoins {
    const reply = lookForJoins(this.#catalogue, surveyGrid(this.#survey), how)
    this.#changed()
    return reply
  }

  changeJoin(edit: JoinEdit): void {
    decideJoin(this.#catalogue, edit)
    this.#changed()
  }

  joinTogether(ids: readonly number[]): void {
    joinTogether(this.#catalogue, surveyGrid(this.#survey), ids)
    this.#changed()
  }

  part(ids: readonly number[]): void {
    partFinds(this.#catalogue, ids)
    this.#changed()
  }

  vocabularies(): Vocabularies {
    return vocabularies()
  }

  objectList(): ObjectList | null {
    return objectList(this.#catalogue)
  }

  async takeObjectList(name: string, path: string): Promise<ObjectListReply> {
    const reply = await takeObjectList(this.#catalogue, name, path)
    this.#changed()
    return reply
  }

  dropObjectList(): void {
    this.#catalogue.takeWordList([], 'removal of the list of words', null)
    this.#changed()
  }

  async labels(request: LabelsRequest): Promise<MadeFile> {
    const made = await labelsPdf(this.#survey, request)
    this.#changed()
    return made
  }

  async table(name: string, path: string, wishes: TableWishes): Promise<FindsTableReply> {
    const { reply } = await takeTable(this.#survey, name, path, wishes)
    if (wishes.write) this.#changed()
    return reply
  }

  export(how: FindsExport): Promise<MadeFile> {
    return exportFinds(this.#survey, how)
  }

  #view(find: CataloguedFind): FindView {
    const photographs = this.#catalogue.photographs(find.id).map((one) => this.#photograph(one))
    const shared = find.foundAt === null ? 0 : this.#catalogue.countAt(find.foundAt.id) - 1
    return findView(find, surveyGrid(this.#survey), photographs, shared)
  }

  #photograph(stored: StoredPhotograph): PhotographView {
    const { id, name, role, note, width, height, takenAt, mmPerPixel, scaleLine, originalId } = stored
    return {
      id,
      name,
      role: role as PhotographRole,
      note,
      width,
      height,
      takenAt,
      mmPerPixel,
      scaleLine: scaleLine && [...scaleLine],
      found: originalId !== null || photographFile(this.#survey.path, stored) !== null,
    }
  }

  #findspotUuid(id: number): string {
    const spot = this.#survey.findspots().find((one) => one.id === id)
    if (spot) return spot.uuid
    throw new SurveyError('not-found', `There is no findspot ${id} in the survey; it may have been removed.`)
  }

  #numbersOf(uuids: ReadonlySet<string>): string[] {
    return this.#catalogue
      .all()
      .filter(({ uuid }) => uuids.has(uuid))
      .map(({ record }) => record.number)
  }
}

/** Millimetres a pixel by a line of known length. */
function scaleOf(line: PhotographEdit['scaleLine']): number | null {
  if (!line) return null
  const [x1, y1, x2, y2, lengthMm] = line
  const pixels = Math.hypot(x2 - x1, y2 - y1)
  if (pixels < 1) {
    throw new SurveyError('bad-value', 'The two ends of the scale bar lie on one spot: click its two ends.')
  }
  return lengthMm / pixels
}
