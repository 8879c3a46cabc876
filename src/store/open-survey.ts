import { SurveyError } from '#core/faults'
import { type Bounds, emptyBounds, joinBounds } from '#core/geometry'
import { writeFile } from './add-file.ts'
import { areaCells, newAreaCells, readArea, readAreas } from './area-rows.ts'
import { copySurvey } from './backup.ts'
import { numberAt } from './cells.ts'
import { checkSurvey } from './check.ts'
import type { Connection } from './connection.ts'
import { indexBounds } from './contents.ts'
import { readCoverPasses, readGaps, readLatestCover, writeCover } from './covers.ts'
import type { FindCatalogue } from './find-catalogue.ts'
import { readFinds, readFindspots } from './findspot-rows.ts'
import { readIdentity, setGridOnce } from './identity.ts'
import { KeptChances } from './kept-chances.ts'
import * as Layers from './layers.ts'
import { markOf, readMarks, removeMark, writeMarks } from './mark-rows.ts'
import type * as Marks from './marks-file.ts'
import { openCatalogue } from './open-catalogue.ts'
import { OpenLand } from './open-land.ts'
import { findOriginal, readOriginalBytes, readOriginals } from './originals.ts'
import { readSettings, writeSettings } from './settings.ts'
import { countTrack, moveTrack } from './settle-visits.ts'
import { registerGrid } from './spatial-reference.ts'
import { surveyFault } from './sqlite-faults.ts'
import type * as Survey from './survey-file.ts'
import { changeTarget, readTargets, targetOf, writeTarget } from './target-rows.ts'
import { countFixes, readTrack, readTrackRows } from './track-rows.ts'
import { lastAction, reverseAction } from './undo.ts'
import * as Visits from './visit-rows.ts'
import type { StoredVisit, VisitFacts } from './visits-file.ts'
import { asAction, Writer } from './writer.ts'

/** A survey open on one connection. What each method does is said at `SurveyFile`. */
export class OpenSurvey implements Survey.SurveyFile {
  readonly path: string
  readonly readOnly: boolean
  readonly catalogue: FindCatalogue
  readonly #on: Connection
  readonly #around: Survey.Surroundings
  readonly land: OpenLand
  readonly chances: KeptChances

  constructor(path: string, on: Connection, surroundings: Survey.Surroundings, readOnly: boolean) {
    this.path = path
    this.readOnly = readOnly
    this.land = new OpenLand({
      read: (work) => this.#read(work),
      act: (what, work) => this.#act(what, work),
      uuid: () => surroundings.uuid(),
    })
    this.#on = on
    this.#around = surroundings
    this.chances = new KeptChances({
      read: (work) => this.#read(work),
      write: (work) => this.#write(work),
      now: () => this.#now(),
    })
    this.catalogue = openCatalogue({
      read: (work) => this.#read(work),
      act: (what, work) => this.#act(what, work),
      around: surroundings,
    })
  }

  identity(): Survey.SurveyIdentity {
    return this.#read(readIdentity)
  }

  setGrid(epsg: number): void {
    this.#act(`choice of grid EPSG:${epsg}`, (writer) => setGridOnce(writer, epsg))
  }

  settings(): Record<string, unknown> {
    return this.#read(readSettings)
  }

  changeSettings(patch: Readonly<Record<string, unknown>>): Record<string, unknown> {
    return this.#act('change of settings', (writer) => {
      writeSettings(writer, patch)
      return readSettings(writer.on)
    })
  }

  addFile(original: Survey.OriginalFile, content: Survey.PlacedContent): Survey.AddFileReply {
    const seen = this.hasOriginal(original.sha256)
    if (seen !== null) return alreadyThere(seen)
    return this.#act(`import of ${original.name}`, (writer) => {
      const since = findOriginal(writer.on, original.sha256)
      if (since !== null) return alreadyThere(since)
      return writeFile(writer, original, content, {
        code: readIdentity(writer.on).code,
        uuid: () => this.#around.uuid(),
        year: new Date(writer.now).getUTCFullYear(),
      })
    })
  }

  hasOriginal(sha256: string): Survey.StoredOriginal | null {
    return this.#read((on) => findOriginal(on, sha256))
  }

  originals(): Survey.StoredOriginal[] {
    return this.#read(readOriginals)
  }

  originalBytes(id: number): Uint8Array {
    return this.#read((on) => readOriginalBytes(on, id))
  }

  areas(): Survey.StoredArea[] {
    return this.#read(readAreas)
  }

  addArea(edit: Survey.AreaEdit): Survey.StoredArea {
    return this.#act(`drawing of ${areaWords(edit.name)}`, (writer) => {
      placeEdit(writer, edit)
      const beside = { uuid: this.#around.uuid(), attributes: {}, originalId: null }
      return areaOf(writer.on, writer.insert('areas', newAreaCells(edit, beside)))
    })
  }

  changeArea(id: number, edit: Survey.AreaEdit): Survey.StoredArea {
    const { name } = this.#read((on) => areaOf(on, id))
    return this.#act(`change of ${areaWords(name)}`, (writer) => {
      placeEdit(writer, edit)
      writer.update('areas', areaOf(writer.on, id).uuid, areaCells(edit))
      return areaOf(writer.on, id)
    })
  }

  removeArea(id: number): void {
    const { name } = this.#read((on) => areaOf(on, id))
    this.#act(`removal of ${areaWords(name)}`, (writer) => writer.remove('areas', areaOf(writer.on, id).uuid))
  }

  tracks(): Survey.StoredTrackRow[] {
    return this.#read(readTrackRows)
  }

  track(id: number): Survey.StoredTrack {
    return this.#read((on) => readTrack(on, id))
  }

  findspots(): Survey.StoredFindspot[] {
    return this.#read(readFindspots)
  }

  finds(): Survey.StoredFind[] {
    return this.#read(readFinds)
  }

  visits(): StoredVisit[] {
    return this.#read(Visits.readVisits)
  }

  changeVisit(id: number, edit: Partial<VisitFacts>): StoredVisit {
    const what = Visits.visitWords(this.#read((on) => Visits.visitOf(on, id)))
    return this.#act(`change of ${what}`, (writer) => Visits.changeVisit(writer, id, edit))
  }

  moveTrack(track: number, visit: number | null): StoredVisit {
    const uuid = () => this.#around.uuid()
    return this.#act('move of a track to another visit', (writer) => moveTrack(writer, track, visit, uuid))
  }

  countTrack(track: number, walked: boolean): void {
    const what = walked ? 'counting of a track' : 'leaving out of a track'
    this.#act(what, (writer) => countTrack(writer, track, walked, () => this.#around.uuid()))
  }

  layers(): Survey.StoredLayer[] {
    return this.#read(Layers.readLayers)
  }

  addLayer(layer: Survey.LayerToAdd): Survey.StoredLayer {
    const uuid = () => this.#around.uuid()
    return this.#act(`import of ${layer.name}`, (writer) => Layers.writeLayer(writer, layer, uuid))
  }

  changeLayer(id: number, edit: Survey.LayerEdit, what: string): Survey.StoredLayer {
    const uuid = () => this.#around.uuid()
    return this.#act(what, (writer) => Layers.changeLayer(writer, id, edit, uuid))
  }

  removeLayer(id: number): void {
    const { name } = this.#read((on) => Layers.layerOf(on, id))
    this.#act(`removal of layer ${name}`, (writer) => Layers.removeLayer(writer, id))
  }

  keepLayerFile(id: number, original: Survey.OriginalFile): Survey.StoredLayer {
    const uuid = () => this.#around.uuid()
    return this.#act(`keeping of ${original.name} inside the survey`, (writer) =>
      Layers.keepLayerFile(writer, id, original, uuid),
    )
  }

  marks(): Marks.StoredMark[] {
    return this.#read(readMarks)
  }

  mark(id: number): Marks.StoredMark {
    return this.#read((on) => markOf(on, id))
  }

  changeMarks(changes: Marks.MarkChanges, what: string): Marks.StoredMark[] {
    const uuid = () => this.#around.uuid()
    return this.#act(what, (writer) => writeMarks(writer, changes, uuid))
  }

  removeMark(id: number): void {
    const { kind } = this.#read((on) => markOf(on, id))
    this.#act(`removal of ${kind} ${id}`, (writer) => removeMark(writer, id))
  }

  targets(): Marks.StoredTarget[] {
    return this.#read(readTargets)
  }

  addTarget(target: Marks.TargetFacts): Marks.StoredTarget {
    const uuid = this.#around.uuid()
    return this.#act(`making of target ${target.name}`, (writer) => writeTarget(writer, target, uuid))
  }

  changeTarget(id: number, edit: Partial<Marks.TargetFacts>): Marks.StoredTarget {
    const { name } = this.#read((on) => targetOf(on, id))
    return this.#act(`change of target ${name}`, (writer) => changeTarget(writer, id, edit))
  }

  removeTarget(id: number): void {
    const { name, uuid } = this.#read((on) => targetOf(on, id))
    this.#act(`removal of target ${name}`, (writer) => writer.remove('targets', uuid))
  }

  saveCover(cover: Survey.CoverToSave): void {
    this.#write((on) => writeCover(on, cover, this.#now()))
  }

  latestCover(): Survey.StoredCover | null {
    return this.#read(readLatestCover)
  }

  coverPasses(id: string): Uint8Array | null {
    return this.#read((on) => readCoverPasses(on, id))
  }

  gaps(): Survey.StoredGap[] {
    return this.#read(readGaps)
  }

  counts(): Survey.AddedCounts {
    return this.#read((on) => {
      const count = (table: string) => numberAt(on.one(`SELECT count(*) AS n FROM ${table}`) ?? {}, 'n') ?? 0
      return {
        areas: count('areas'),
        tracks: count('tracks'),
        fixes: countFixes(on),
        findspots: count('findspots'),
        finds: count('finds'),
      }
    })
  }

  bounds(): Bounds | null {
    const bounds = this.#read((on) =>
      (['areas', 'tracks', 'findspots'] as const).map((layer) => indexBounds(on, layer)),
    ).reduce(joinBounds, emptyBounds)
    return bounds.minX <= bounds.maxX ? bounds : null
  }

  undoable(): string | null {
    return this.#read(lastAction)?.what ?? null
  }

  undo(): string | null {
    return this.#write((on) => {
      const last = lastAction(on)
      if (last === null) return null
      const action = { what: `undo of ${last.what}`, by: this.#around.by, now: this.#now(), undoes: last.id }
      const writer = new Writer(on, action)
      reverseAction(writer, last.id)
      writer.finish()
      return last.what
    })
  }

  revision(): number {
    return this.#revision('everything')
  }

  groundRevision(): number {
    return this.#revision('ground')
  }

  check(): Survey.Problem[] {
    return checkSurvey(this.#on)
  }

  async backup(toPath: string): Promise<void> {
    try {
      await copySurvey(this.#on.db, toPath)
    } catch (error) {
      throw surveyFault(error, toPath)
    }
  }

  close(): void {
    this.#on.close()
  }

  #now(): string {
    return this.#around.now().toISOString()
  }

  #revision(counter: 'everything' | 'ground'): number {
    return this.#read((on) => numberAt(on.one('SELECT * FROM revisions') ?? {}, counter) ?? 0)
  }

  /** All reads of `work` see one moment. */
  #read<Result>(work: (on: Connection) => Result): Result {
    return this.#told(() => this.#on.transaction('DEFERRED', () => work(this.#on)))
  }

  #write<Result>(work: (on: Connection) => Result): Result {
    this.#assertWritable()
    return this.#told(() => this.#on.transaction('IMMEDIATE', () => work(this.#on)))
  }

  #act<Result>(what: string, work: (writer: Writer) => Result): Result {
    this.#assertWritable()
    const action = { what, by: this.#around.by, now: this.#now(), undoes: null }
    return this.#told(() => asAction(this.#on, action, work))
  }

  #told<Result>(work: () => Result): Result {
    try {
      return work()
    } catch (error) {
      throw surveyFault(error, this.path)
    }
  }

  #assertWritable(): void {
    if (this.readOnly) {
      throw new SurveyError(
        'survey-read-only',
        'The survey was opened for reading only; open it for writing to change it.',
      )
    }
  }
}

function alreadyThere(original: Survey.StoredOriginal): Survey.AddFileReply {
  const added = { tracks: 0, fixes: 0, findspots: 0, areas: 0, finds: 0 }
  return { originalId: original.id, alreadyThere: true, added, renumbered: [] }
}

function areaWords(name: string | null): string {
  return name === null ? 'an area without a name' : `area ${name}`
}

function areaOf(on: Connection, id: number): Survey.StoredArea {
  const area = readArea(on, id)
  if (area === null) {
    throw new SurveyError('not-found', `There is no area ${id} in the survey; it may have been removed.`)
  }
  return area
}

function placeEdit(writer: Writer, edit: Survey.AreaEdit): void {
  if (edit.gridEpsg !== undefined) setGridOnce(writer, edit.gridEpsg)
  if (edit.given !== null) registerGrid(writer.on, edit.given.epsg)
}
