import path from 'node:path'
import type {
  AreaEdit,
  AreaView,
  CoverView,
  ExportFormat,
  ExportWhat,
  FindspotView,
  GapView,
  ImportedFile,
  Job,
  LineView,
  NewSurvey,
  PlaceView,
  Settings,
  SurveyList,
  SurveyView,
  TrackView,
  UndoReply,
} from '#contract'
import { SurveyError } from '#core/faults'
import { isPlanarGrid, type PlanarGrid } from '#core/geodesy'
import { createSurveyFile, openSurveyFile, type SurveyFile } from '#store'
import { ostn15Bytes } from '#work'
import { storedArea } from './area-edit.ts'
import { Backups } from './backups.ts'
import { KeptBaseMaps } from './base-maps.ts'
import { coverOfSurvey } from './cover-survey.ts'
import { CoverTiles } from './cover-tiles.ts'
import { writeDemoSurvey } from './demo-survey.ts'
import type { DeskEvent, DeskService, MadeFile, StartedJob } from './desk-service.ts'
import { exportFile } from './export.ts'
import type { ExportWishes } from './export-content.ts'
import { FindsOfSurvey } from './finds/finds-of-survey.ts'
import { surveyGrid } from './ground.ts'
import { importFile } from './import-file.ts'
import { Jobs } from './jobs.ts'
import { LandOfSurvey } from './land/land-of-survey.ts'
import { LayersOfSurvey } from './layers/layers-of-survey.ts'
import { MarksOfSurvey } from './marks/marks-of-survey.ts'
import { lineBetween, placeOf } from './places.ts'
import { PlansOfSurvey } from './plans/plans-of-survey.ts'
import { landownerReportOf } from './report.ts'
import { changeSettings } from './settings.ts'
import { surroundings } from './surroundings.ts'
import { surveyView } from './survey-view.ts'
import { SurveysFolder } from './surveys-folder.ts'
import { TrackLines } from './track-lines.ts'
import { areaView, findspotViews, gapView, trackView } from './views.ts'
import { VisitsOfSurvey } from './visits/visits-of-survey.ts'

/** How often the file is looked at for changes by other programs, milliseconds. One cheap query. */
const watchEvery = 2000
const demoName = 'ninestile-demo.gpkg'

/** The desk's service over one open survey and a folder of surveys. */
export class Desk implements DeskService {
  readonly #folder: SurveysFolder
  readonly baseMaps: KeptBaseMaps
  readonly #listeners = new Set<(event: DeskEvent) => void>()
  readonly #jobs = new Jobs(surroundings.uuid, (job) => this.#tell({ type: 'job', job }))
  readonly #lines = new TrackLines()
  readonly #tiles = new CoverTiles()
  readonly #backups = new Backups((text) => process.stderr.write(`lynchet: ${text}\n`))
  readonly #watch: NodeJS.Timeout
  #survey: SurveyFile
  #layers: LayersOfSurvey
  #marks: MarksOfSurvey
  #land: LandOfSurvey
  #plans: PlansOfSurvey
  #visits: VisitsOfSurvey
  #told = -1
  #viewed: { readonly key: string; readonly view: SurveyView } | null = null

  private constructor(folder: SurveysFolder, survey: SurveyFile) {
    this.#folder = folder
    this.baseMaps = new KeptBaseMaps(folder.path)
    this.#survey = survey
    this.#layers = this.#layersOf(survey)
    this.#marks = this.#marksOf(survey, this.#layers)
    this.#land = this.#landOf(survey)
    this.#plans = this.#plansOf(survey, this.#layers)
    this.#visits = this.#visitsOf(survey)
    this.#watch = setInterval(() => this.#tellIfChanged(), watchEvery)
    this.#watch.unref()
    this.#backups.watch(survey)
  }

  /** Opens the named survey, else the one last changed in the folder, else the demo survey, written on first start. */
  static async open(home: string, surveyPath: string | undefined): Promise<Desk> {
    const folder = new SurveysFolder(home)
    const file = surveyPath ?? (await Desk.#lastOrDemo(folder))
    return new Desk(folder, openSurveyFile(file, surroundings))
  }

  static async #lastOrDemo(folder: SurveysFolder): Promise<string> {
    const last = folder.names()[0]
    if (last) return path.join(folder.path, last.file)
    const file = path.join(folder.path, demoName)
    await writeDemoSurvey(file)
    return file
  }

  #grid(): PlanarGrid {
    const grid = surveyGrid(this.#survey)
    if (grid) return grid
    throw new SurveyError(
      'no-track',
      'The survey holds nothing with a position yet: bring in a track or an area first.',
    )
  }

  #tell(event: DeskEvent): void {
    for (const listener of this.#listeners) listener(event)
  }

  #tellIfChanged(): void {
    const revision = this.#survey.revision()
    if (revision === this.#told) return
    this.#told = revision
    this.#tell({ type: 'survey', revision })
  }

  #layersOf(survey: SurveyFile): LayersOfSurvey {
    return new LayersOfSurvey(survey, {
      start: (kind, label, work) => this.#jobs.start(kind, label, work),
      changed: () => this.#tellIfChanged(),
      better: () => this.#tellAgain(survey),
    })
  }

  #marksOf(survey: SurveyFile, layers: LayersOfSurvey): MarksOfSurvey {
    return new MarksOfSurvey(survey, {
      layers,
      start: (kind, label, work) => this.#jobs.start(kind, label, work),
      changed: () => this.#tellIfChanged(),
    })
  }

  #landOf(survey: SurveyFile): LandOfSurvey {
    return new LandOfSurvey(survey, {
      start: (kind, label, work) => this.#jobs.start(kind, label, work),
      changed: () => this.#tellIfChanged(),
    })
  }

  #plansOf(survey: SurveyFile, layers: LayersOfSurvey): PlansOfSurvey {
    return new PlansOfSurvey(survey, { layers, changed: () => this.#tellIfChanged() })
  }

  #visitsOf(survey: SurveyFile): VisitsOfSurvey {
    return new VisitsOfSurvey(survey, {
      start: (kind, label, work) => this.#jobs.start(kind, label, work),
      changed: () => this.#tellIfChanged(),
      better: () => this.#tellAgain(survey),
    })
  }

  /** Nothing of the survey has changed, but its pages are to look again. */
  #tellAgain(survey: SurveyFile): void {
    if (survey === this.#survey) this.#tell({ type: 'survey', revision: survey.revision() })
  }

  /** Runs a change and tells the listeners of it. */
  #changed<Result>(change: () => Result): Result {
    try {
      return change()
    } finally {
      this.#tellIfChanged()
    }
  }

  /** Kept while nothing changes, for it counts the finds in the search ground. */
  view(): SurveyView {
    const key = `${this.#survey.identity().uuid} ${this.#survey.revision()} ${this.#survey.latestCover()?.id}`
    if (key !== this.#viewed?.key) this.#viewed = { key, view: surveyView(this.#survey) }
    return this.#viewed.view
  }

  tracks(): TrackView[] {
    return this.#survey.tracks().map(trackView)
  }

  trackLine(id: number, toleranceM: number): Float64Array {
    return this.#lines.line(this.#survey, this.#grid(), id, toleranceM)
  }

  areas(): AreaView[] {
    const grid = surveyGrid(this.#survey)
    return grid ? this.#survey.areas().map((area) => areaView(area, grid)) : []
  }

  addArea(edit: AreaEdit): AreaView {
    const grid = this.#grid()
    return this.#changed(() => areaView(this.#survey.addArea(storedArea(edit, grid)), grid))
  }

  changeArea(id: number, edit: AreaEdit): AreaView {
    const grid = this.#grid()
    return this.#changed(() => areaView(this.#survey.changeArea(id, storedArea(edit, grid)), grid))
  }

  removeArea(id: number): void {
    this.#changed(() => this.#survey.removeArea(id))
  }

  findspots(): FindspotView[] {
    const grid = surveyGrid(this.#survey)
    return grid ? findspotViews(this.#survey, grid) : []
  }

  gaps(): GapView[] {
    const grid = surveyGrid(this.#survey)
    return grid ? this.#survey.gaps().map((gap) => gapView(gap, grid)) : []
  }

  coverTile(id: string, level: number, column: number, row: number): Promise<Uint8Array | null> {
    return this.#tiles.tile(this.#survey, id, level, column, row)
  }

  changeSettings(patch: Partial<Settings>): Settings {
    return this.#changed(() => changeSettings(this.#survey, patch))
  }

  undo(): UndoReply {
    return this.#changed(() => ({ undone: this.#survey.undo() }))
  }

  get finds(): FindsOfSurvey {
    return new FindsOfSurvey(this.#survey, () => this.#tellIfChanged())
  }

  get layers(): LayersOfSurvey {
    return this.#layers
  }

  get land(): LandOfSurvey {
    return this.#land
  }

  get plans(): PlansOfSurvey {
    return this.#plans
  }

  get marks(): MarksOfSurvey {
    return this.#marks
  }

  get visits(): VisitsOfSurvey {
    return this.#visits
  }

  startImport(name: string, file: string, together: readonly string[] = []): StartedJob<ImportedFile> {
    const [survey, layers] = [this.#survey, this.#layers]
    return this.#jobs.start('import', `reading ${name}`, (options) =>
      importFile(survey, name, file, {
        ...options,
        ...{ move: true, together, cache: layers.cache, onLayer: ({ id }) => layers.prepare(id) },
      }).finally(() => this.#tellIfChanged()),
    )
  }

  startCover(): StartedJob<CoverView> {
    const survey = this.#survey
    return this.#jobs.start('cover', 'working out the cover', async (options) => {
      const cover = await coverOfSurvey(survey, options)
      this.#tell({ type: 'survey', revision: survey.revision() })
      return cover
    })
  }

  cancel(job: string): boolean {
    return this.#jobs.cancel(job)
  }

  jobs(): Job[] {
    return this.#jobs.list()
  }

  onEvent(listener: (event: DeskEvent) => void): () => void {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  exportFile(what: ExportWhat, format: ExportFormat, wishes?: ExportWishes): MadeFile {
    return exportFile(this.#survey, what, format, wishes)
  }

  place(text: string): PlaceView {
    return placeOf(text, surveyGrid(this.#survey))
  }

  line(from: readonly [number, number], to: readonly [number, number]): LineView {
    return lineBetween(from, to, surveyGrid(this.#survey), surroundings.now())
  }

  startGrid(epsg: number): SurveyView {
    if (!isPlanarGrid(epsg)) {
      throw new SurveyError('outside-grid', `EPSG ${epsg} is not a grid that a survey can be worked in.`)
    }
    this.#changed(() => this.#survey.setGrid(epsg))
    return this.view()
  }

  landownerReport(): Promise<MadeFile> {
    return landownerReportOf(this.#survey)
  }

  surveys(): SurveyList {
    const open = path.resolve(this.#survey.path)
    const surveys = this.#folder.names().flatMap(({ file, changedAt }) => {
      const full = path.join(this.#folder.path, file)
      const identity = full === open ? this.#survey.identity() : identityOf(full)
      if (identity === null) return []
      return [
        {
          file,
          code: identity.code,
          title: identity.title,
          open: full === open,
          changedAt: changedAt.toISOString(),
        },
      ]
    })
    return { folder: this.#folder.path, surveys }
  }

  shiftGrid(): Uint8Array {
    return ostn15Bytes()
  }

  newSurvey({ code, title }: NewSurvey): SurveyView {
    const file = path.join(this.#folder.path, this.#folder.freeNameFor(title))
    return this.#switchTo(createSurveyFile(file, { code, title, demo: false }, surroundings))
  }

  openSurvey(file: string): SurveyView {
    return this.#switchTo(openSurveyFile(this.#folder.pathOf(file), surroundings))
  }

  #switchTo(survey: SurveyFile): SurveyView {
    this.#jobs.cancelAll()
    this.#survey.close()
    this.#survey = survey
    this.#layers = this.#layersOf(survey)
    this.#marks = this.#marksOf(survey, this.#layers)
    this.#land = this.#landOf(survey)
    this.#plans = this.#plansOf(survey, this.#layers)
    this.#visits = this.#visitsOf(survey)
    this.#backups.watch(survey)
    this.#viewed = null
    this.#told = survey.revision()
    this.#tell({ type: 'survey', revision: this.#told })
    return this.view()
  }

  close(): void {
    clearInterval(this.#watch)
    this.#backups.stop()
    this.#jobs.cancelAll()
    this.#survey.close()
  }
}

/** Who a survey is, without keeping it open; null for a file that is none or cannot be read. */
function identityOf(file: string) {
  try {
    const survey = openSurveyFile(file, surroundings, { readOnly: true })
    try {
      return survey.identity()
    } finally {
      survey.close()
    }
  } catch {
    return null
  }
}
