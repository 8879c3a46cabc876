import type { Bounds, PlanarArea, Polygon } from '#core/geometry'
import type { Placement, TiePoint } from '#core/imagery'
import type { FileKind, RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'
import type { ChancesFile } from './chances-file.ts'
import type { FindCatalogue } from './find-catalogue.ts'
import type { LandFile } from './land-file.ts'
import type { MarksFile } from './marks-file.ts'
import type { VisitsFile } from './visits-file.ts'

/** What the store needs from the world and will not take by itself. */
export interface Surroundings {
  /** The time written on every change. */
  now(): Date
  /** A fresh version 4 UUID. */
  uuid(): string
  /** Who is at work; written on every change. */
  readonly by: string
}

/** `openSurveyFile`. Faults: survey-missing, not-a-survey, newer-survey, survey-locked, survey-read-only, survey-damaged. */
export type OpenSurveyFile = (
  path: string,
  surroundings: Surroundings,
  options?: { readonly readOnly?: boolean },
) => SurveyFile

/** `createSurveyFile`. Faults: survey-exists, cannot-write, disk-full. The code is checked by the caller (2 to 8 of A-Z, 0-9). */
export type CreateSurveyFile = (
  path: string,
  start: { readonly code: string; readonly title: string; readonly demo: boolean },
  surroundings: Surroundings,
) => SurveyFile

/** An easting and northing in metres, with how they came about: 'as given', 'OSTN15', 'UTM (Karney series)' … */
export interface PlanarPosition {
  readonly epsg: number
  readonly easting: number
  readonly northing: number
  readonly method: string
}

/** A track ready to be stored: `recorded.epsg` is 4326. `given` holds the planar pairs of a file that gave those instead. */
export interface PlacedTrack {
  readonly recorded: RecordedTrack
  readonly given: { readonly epsg: number; readonly xy: Float64Array } | null
}

/** An area ready to be stored: `recorded.epsg` is 4326. `given` holds the planar rings it was given or drawn in. */
export interface PlacedArea {
  readonly recorded: RecordedArea
  readonly given: PlanarArea | null
}

/** A findspot ready to be stored: `recorded.epsg` is 4326; `planar` is its position in a grid, null where none could be had. */
export interface PlacedFindspot {
  readonly recorded: RecordedFindspot
  readonly planar: PlanarPosition | null
}

/** All that one file brings in, every position in WGS84 with the planar one beside. */
export interface PlacedContent {
  readonly tracks: readonly PlacedTrack[]
  readonly areas: readonly PlacedArea[]
  readonly findspots: readonly PlacedFindspot[]
  /** Sets the survey's grid in the same step where it has none yet; undo takes it back with the import. */
  readonly gridEpsg?: number
}

export interface OriginalFile {
  readonly name: string
  readonly kind: FileKind | string
  readonly bytes: Uint8Array
  /** 64 lower-case hexadecimal digits. */
  readonly sha256: string
}

export interface AddedCounts {
  readonly tracks: number
  readonly fixes: number
  readonly findspots: number
  readonly areas: number
  readonly finds: number
}

export interface AddFileReply {
  readonly originalId: number
  /** True when these bytes were in the survey already: then nothing was changed. */
  readonly alreadyThere: boolean
  readonly added: AddedCounts
  /** Finds whose given number was taken already or not of the form CODE-YEAR-NNN; the given one is kept beside the new. */
  readonly renumbered: readonly { readonly given: string; readonly number: string }[]
}

export interface SurveyIdentity {
  readonly uuid: string
  readonly code: string
  readonly title: string
  readonly demo: boolean
  /** Null while nothing with a position has come in. */
  readonly gridEpsg: number | null
  /** Seconds since 1970-01-01 UTC. */
  readonly createdAt: number
}

export interface StoredOriginal {
  readonly id: number
  readonly uuid: string
  readonly name: string
  readonly kind: string
  readonly sha256: string
  /** Bytes. */
  readonly size: number
  /** Seconds since 1970-01-01 UTC. */
  readonly importedAt: number
}

interface Stored {
  readonly id: number
  readonly uuid: string
  /** Name of the file it came from; null for what was drawn or typed in. */
  readonly originalName: string | null
}

/** Rings in WGS84 longitude, latitude. `given` is null where there is none or another program has since moved the polygon. */
/** Ground to be searched; a field for its bounds; ground to be left alone; ground to be careful on. */
export type AreaKind = 'search' | 'field' | 'no-go' | 'hazard'

export interface StoredArea extends Stored {
  readonly name: string | null
  readonly kind: AreaKind
  readonly polygons: readonly Polygon[]
  readonly given: PlanarArea | null
  readonly attributes: Readonly<Record<string, string>>
}

export interface AreaEdit {
  readonly name: string | null
  /** Undefined leaves the kind as it is; a new area is then to be searched. */
  readonly kind?: AreaKind
  /** WGS84. */
  readonly polygons: readonly Polygon[]
  readonly given: PlanarArea | null
  readonly gridEpsg?: number
}

/** One track without its fixes. */
export interface StoredTrackRow extends Stored {
  /** Its visit; null for a planned line, and for what another program added since the last import. */
  readonly visitId: number | null
  readonly name: string | null
  readonly walked: boolean
  readonly fixes: number
  /** First and last known time, seconds since 1970-01-01 UTC to the millisecond; null without times. */
  readonly start: number | null
  readonly end: number | null
}

export interface StoredTrack extends RecordedTrack {
  readonly id: number
  readonly uuid: string
  /** The planar pairs of the file, where it gave those; null if none, or moved since by another program. */
  readonly given: { readonly epsg: number; readonly xy: Float64Array } | null
  /** What could not be brought back whole, for instance because another program changed the number of vertices. */
  readonly problems: readonly Problem[]
}

export interface StoredFind {
  readonly id: number
  readonly uuid: string
  readonly findspotId: number | null
  readonly number: string | null
  /** The number the file gave, where it could not be kept. */
  readonly givenNumber: string | null
  readonly object: string
  readonly material: string | null
  readonly period: string | null
  readonly count: number
  readonly weightG: number | null
  readonly depthM: number | null
}

export interface StoredFindspot extends Stored {
  readonly name: string | null
  readonly visitId: number | null
  readonly lon: number
  readonly lat: number
  /** Null where none was stored or another program has moved the point since: then work it out from lon, lat. */
  readonly planar: PlanarPosition | null
  readonly accuracyM: number | null
  readonly elevation: number | null
  /** Seconds since 1970-01-01 UTC to the millisecond. */
  readonly time: number | null
  readonly note: string | null
  readonly attributes: Readonly<Record<string, string>>
  readonly finds: readonly StoredFind[]
}

/** One worked-out cover. The store does not look into `settings`, `figures`, `frame` (JSON) or `passes` (deflated by the caller). */
export interface CoverToSave {
  readonly id: string
  readonly settings: unknown
  readonly figures: unknown
  readonly frame: unknown
  readonly passes: Uint8Array
  /** `groundRevision()` as it was when the tracks, areas and settings were read. */
  readonly groundRevision: number
  /** Polygons in WGS84. */
  readonly gaps: readonly { readonly areaM2: number; readonly polygon: Polygon }[]
}

export interface StoredCover {
  readonly id: string
  /** Seconds since 1970-01-01 UTC. */
  readonly madeAt: number
  readonly settings: unknown
  readonly figures: unknown
  readonly frame: unknown
  readonly groundRevision: number
}

export interface StoredGap {
  readonly id: number
  readonly areaM2: number
  readonly polygon: Polygon
}

/** What a file is to its layer: its pixels, the world file that places them, the text that names their system. */
export type LayerFileRole = 'raster' | 'world' | 'system'

/** A file that a layer is made of, which lies outside the survey unless `originalId` says otherwise. */
export interface LayerFile {
  readonly role: LayerFileRole
  readonly name: string
  /** Where it was last seen, absolute; and the same from the survey's folder, with '/' between, null where no such way leads there. */
  readonly path: string
  readonly relativePath: string | null
  readonly sha256: string
  /** Bytes. */
  readonly size: number
  /** Where its upper left pixel lies in the layer: 0, 0 but for the tiles of a mosaic. */
  readonly firstColumn: number
  readonly firstRow: number
}

export interface StoredLayerFile extends LayerFile {
  readonly id: number
  /** The original that holds its bytes; null while they are not inside. */
  readonly originalId: number | null
}

/** What is known of a layer besides its files. Pixels count from the outer corner of the upper left one. */
export interface LayerFacts {
  readonly name: string
  readonly kind: 'image' | 'terrain'
  /** 2026-07-02 */
  readonly takenOn: string | null
  readonly columns: number
  readonly rows: number
  readonly bands: number
  /** 'uint8', 'int16', 'float32' … */
  readonly sampleType: string
  readonly noData: number | null
  /** EXIF orientation that was applied to the pixels, 1 where none was. */
  readonly orientation: number
  /** Counted from 1. */
  readonly nearInfraredBand: number | null
  /** Code of the system that `placing` leads to; null where it is not known, or only by `systemText`. */
  readonly epsg: number | null
  /** The text that states the system where no code does. */
  readonly systemText: string | null
  /** From pixels to that system, or to the survey's grid where tie points made it; null until placed. */
  readonly placing: Placement | null
  readonly placedBy: 'file' | 'world-file' | 'tie-points' | null
  readonly tiePoints: readonly TiePoint[]
  readonly expectedErrorM: number | null
  readonly attribution: string | null
}

export interface LayerToAdd extends LayerFacts {
  readonly files: readonly LayerFile[]
  /** Sets the survey's grid in the same step where it has none yet. */
  readonly gridEpsg?: number
}

/** Parts of a layer to be changed. `files` takes the place of all its files. */
export interface LayerEdit extends Partial<LayerFacts> {
  readonly files?: readonly (LayerFile & { readonly originalId?: number | null })[]
  readonly gridEpsg?: number
}

export interface StoredLayer extends LayerFacts {
  readonly id: number
  readonly uuid: string
  readonly files: readonly StoredLayerFile[]
}

/** Something `check` found wrong. */
export interface Problem {
  readonly code: string
  readonly text: string
}

/**
 * An open survey. Every method works at once on the file; changes are one transaction each and are on disk when the
 * method returns. Faults: SurveyError survey-locked (another program held the file for five seconds), survey-read-only,
 * disk-full, survey-damaged, not-found; nothing is half-written.
 */
export interface SurveyFile extends MarksFile, VisitsFile {
  /** Permissions, plans and constraints. */
  readonly land: LandFile
  readonly chances: ChancesFile
  readonly path: string
  readonly readOnly: boolean
  identity(): SurveyIdentity
  /** Sets the grid once. SurveyError 'mixed-grids' where another one is set already. */
  setGrid(epsg: number): void

  settings(): Record<string, unknown>
  /** Values must be JSON; a value of undefined takes the key away. Returns the settings as they now stand. */
  changeSettings(patch: Readonly<Record<string, unknown>>): Record<string, unknown>

  addFile(original: OriginalFile, content: PlacedContent): AddFileReply
  hasOriginal(sha256: string): StoredOriginal | null
  originals(): StoredOriginal[]
  originalBytes(id: number): Uint8Array

  areas(): StoredArea[]
  addArea(edit: AreaEdit): StoredArea
  changeArea(id: number, edit: AreaEdit): StoredArea
  removeArea(id: number): void

  tracks(): StoredTrackRow[]
  track(id: number): StoredTrack
  findspots(): StoredFindspot[]
  /** All finds, also those whose findspot is gone. */
  finds(): StoredFind[]
  /** Everything else that is known of finds. */
  readonly catalogue: FindCatalogue

  /** Images and terrain models, in the order they came. */
  layers(): StoredLayer[]
  addLayer(layer: LayerToAdd): StoredLayer
  /** `what` names the change for Undo: 'placing of field.jpg'. An edit that changes nothing leaves no trace. */
  changeLayer(id: number, edit: LayerEdit, what: string): StoredLayer
  /** Takes a layer out of the survey; files outside stay where they are, and bytes inside stay among the originals. */
  removeLayer(id: number): void
  /** Keeps the bytes of a layer's file inside the survey. Memory: the file once more. RangeError where the layer has no such file. */
  keepLayerFile(id: number, original: OriginalFile): StoredLayer

  /** Keeps this cover and its gaps in place of the last one. */
  saveCover(cover: CoverToSave): void
  latestCover(): StoredCover | null
  /** Null for a cover that is no longer kept. */
  coverPasses(id: string): Uint8Array | null
  gaps(): StoredGap[]

  counts(): AddedCounts
  /** Of areas, tracks and findspots, in WGS84 degrees; null while there are none. */
  bounds(): Bounds | null

  /** What `undo` would take back, in words; null if nothing, or if another program has changed the same rows since. */
  undoable(): string | null
  /** Takes back the last action and returns its words; null if there was nothing to take back. */
  undo(): string | null

  /** Rises with every change of user data by anybody, GIS programs included; covers and gaps do not count. */
  revision(): number
  /** Rises with every change of tracks, areas or settings: what a cover depends on. */
  groundRevision(): number

  /** Looks at everything; reads the whole file. Empty when all is well. */
  check(): Problem[]
  /** Writes a complete copy, in one file, while the survey stays in use. Overwrites nothing: SurveyError survey-exists. */
  backup(toPath: string): Promise<void>
  close(): void
}
