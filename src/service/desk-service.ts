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
import type { BaseMapService } from './base-maps.ts'
import type { ExportWishes } from './export-content.ts'
import type { FindsService } from './finds/finds-service.ts'
import type { LandService } from './land/land-service.ts'
import type { LayerService } from './layers/layer-service.ts'
import type { MarkService } from './marks/mark-service.ts'
import type { PlanService } from './plans/plan-service.ts'
import type { VisitService } from './visits/visit-service.ts'

export type DeskEvent =
  | { readonly type: 'job'; readonly job: Job }
  | { readonly type: 'survey'; readonly revision: number }

/** Long work under way: `done` settles when it ends, and rejects with SurveyError('cancelled') after a cancel. */
export interface StartedJob<Result> {
  readonly job: string
  readonly done: Promise<Result>
}

/** A file made for the user to keep. */
export interface MadeFile {
  readonly fileName: string
  readonly mediaType: string
  readonly bytes: Uint8Array
  readonly features: number
}

/**
 * All that the desk can ask of the one survey it has open, and of the folder of surveys. Planar values are in the
 * survey's grid. Every method throws SurveyError for a fault in the data or the world.
 */
export interface DeskService {
  view(): SurveyView
  tracks(): TrackView[]
  /** Interleaved easting, northing of one track, thinned to `toleranceM`; a NaN pair between segments. */
  trackLine(id: number, toleranceM: number): Float64Array
  areas(): AreaView[]
  addArea(edit: AreaEdit): AreaView
  changeArea(id: number, edit: AreaEdit): AreaView
  removeArea(id: number): void
  findspots(): FindspotView[]
  gaps(): GapView[]
  /**
   * One 256 x 256 PNG of the cover, as contract/cover-tiles.ts says. Level 0 has one pixel a cell; each level above halves the resolution. Column and row
   * count from the north-west corner of the cover's frame. Null outside the frame or for a cover that is no longer kept.
   */
  coverTile(id: string, level: number, column: number, row: number): Promise<Uint8Array | null>
  changeSettings(patch: Partial<Settings>): Settings
  undo(): UndoReply
  /**
   * Reads the file at `path` (already on this machine, and the desk's to move) under the name the user gave it. `together` are the names of all
   * files given at once with it: tiles of a terrain that abut become one layer, a world file knows whether its picture is to come.
   */
  startImport(name: string, path: string, together: readonly string[]): StartedJob<ImportedFile>
  /** Images and terrain models of the open survey. */
  readonly layers: LayerService
  /** Marks seen on them, and targets. */
  readonly marks: MarkService
  /** The catalogue of finds of the open survey. */
  readonly finds: FindsService
  /** Permissions, and what is to be kept clear of. */
  readonly land: LandService
  /** Lanes planned and kept. */
  readonly plans: PlanService
  /** Who walked when, and how likely it is that something was missed. */
  readonly visits: VisitService
  /** Works the cover out anew from all walked tracks and all search areas. */
  startCover(): StartedJob<CoverView>
  /** False where no such job is running. */
  cancel(job: string): boolean
  jobs(): Job[]
  /** Tells of jobs and of changes, whoever made them. Returns a function that stops the telling. */
  onEvent(listener: (event: DeskEvent) => void): () => void
  /** Part of the survey as a file. `plan` is whose lanes, else those of the plan kept last; `names` cuts names for a handheld. */
  exportFile(what: ExportWhat, format: ExportFormat, wishes?: ExportWishes): MadeFile
  /** A place in any notation, in the survey's grid. */
  place(text: string): PlaceView
  /** Lengths and bearings between two places of the survey's grid, easting and northing. */
  line(from: readonly [number, number], to: readonly [number, number]): LineView
  /** Gives a survey that holds nothing yet the grid it is to be worked in. */
  startGrid(epsg: number): SurveyView
  /** The landowner's report as PDF. */
  landownerReport(): Promise<MadeFile>
  readonly baseMaps: BaseMapService
  /** OSTN15 as core/geodesy decodes it: the page lays base maps in the British grid by it. */
  shiftGrid(): Uint8Array
  surveys(): SurveyList
  newSurvey(survey: NewSurvey): SurveyView
  openSurvey(file: string): SurveyView
  close(): void
}
