import type { FindRecord } from '#core/finds'
import type { OriginalFile, PlacedFindspot, PlanarPosition } from './survey-file.ts'

/** Where a find was made, as its findspot has it. */
export interface FoundAt {
  /** Row of `findspots`. */
  readonly id: number
  readonly uuid: string
  readonly name: string | null
  readonly lon: number
  readonly lat: number
  readonly planar: PlanarPosition | null
  readonly accuracyM: number | null
  /** Seconds since 1970-01-01 UTC to the millisecond. */
  readonly time: number | null
  /** UUID of the visit its time fell in. */
  readonly visit: string | null
  readonly note: string | null
}

/** One find of the catalogue. */
export interface CataloguedFind {
  readonly id: number
  readonly uuid: string
  /** `number` is empty where another program took it away. */
  readonly record: FindRecord
  /** The number the file gave, where it could not be kept. */
  readonly givenNumber: string | null
  readonly foundAt: FoundAt | null
  /** How many photographs it has. */
  readonly photographs: number
}

/**
 * A find as a list shows it: id, number, object, material, period, from_year, to_year, certainty, count, completeness, weight_g, length_mm, width_mm,
 * thickness_mm, diameter_mm, depth_m, condition, description, notes (else the note on its findspot), finder, where_now, visit_uuid (else that of its findspot), findspot_id, easting, northing, accuracy_m,
 * found_at, photographs, conservation, id of the first photograph: as they stand in the columns of the file.
 */
export interface LightFind {
  readonly cells: readonly (string | number | null)[]
  /** Degrees on WGS84, where the findspot has no position in the grid asked for. */
  readonly lon: number | null
  readonly lat: number | null
}

/** A find to be added. All that is left out is not known. */
export interface FindToAdd {
  readonly record: Partial<FindRecord>
  /** Where it was found; null where that is not known. A findspot of `record.findspot` is taken instead where that names one. */
  readonly foundAt: PlacedFindspot | null
  /** What a table called it, where that is no number of this survey. */
  readonly givenNumber?: string | null
}

/** What is to be changed of one find; `foundAt` null takes it off its findspot. */
export interface FindEdit {
  readonly id: number
  readonly patch: Partial<FindRecord>
  readonly foundAt?: PlacedFindspot | null
}

/** One entry of a find's history. */
export interface FindEventToAdd {
  readonly kind: string
  /** 2026-11-25, or with a time; null where it is not known. */
  readonly happenedOn: string | null
  readonly who: string | null
  readonly note: string | null
}

export interface FindEvent extends FindEventToAdd {
  readonly uuid: string
  /** Seconds since 1970-01-01 UTC. */
  readonly recordedAt: number
  readonly recordedBy: string
}

/** A change of a find's row as the journal has it: columns of `finds`, before and after. Null `by`: another program. */
export interface FindChange {
  /** Seconds since 1970-01-01 UTC. */
  readonly at: number
  readonly by: string | null
  readonly what: string
  readonly change: 'insert' | 'update' | 'delete'
  readonly before: Readonly<Record<string, unknown>>
  readonly after: Readonly<Record<string, unknown>>
}

export interface PhotographFacts {
  readonly role: string
  readonly note: string | null
  /** Millimetres a pixel of the upright picture, and the line that says so: pixel pairs and its length; null until measured. */
  readonly mmPerPixel: number | null
  readonly scaleLine: readonly [x1: number, y1: number, x2: number, y2: number, lengthMm: number] | null
}

export interface PhotographToAdd extends PhotographFacts {
  readonly name: string
  /** Where the file lies; null where its bytes are inside. */
  readonly path: string | null
  readonly relativePath: string | null
  readonly sha256: string
  readonly size: number
  /** Of the upright picture, pixels. */
  readonly width: number
  readonly height: number
  /** EXIF orientation, by which the stored picture is turned upright. */
  readonly orientation: number
  /** Local time as the camera wrote it: 2026-11-25T10:15:00. */
  readonly takenAt: string | null
  /** Kept, and never given out. */
  readonly exif: Uint8Array | null
  /** JPEG. */
  readonly thumbnail: Uint8Array
}

export interface StoredPhotograph extends Omit<PhotographToAdd, 'exif' | 'thumbnail'> {
  readonly id: number
  readonly uuid: string
  /** Row and UUID of its find. */
  readonly findUuid: string
  readonly originalId: number | null
}

export type JoinState = 'proposed' | 'accepted' | 'rejected'

export interface JoinToWrite {
  /** Rows of two finds. */
  readonly first: number
  readonly second: number
  readonly state: JoinState
  readonly score: number | null
  readonly reasons: readonly string[]
  readonly note: string | null
}

export interface StoredJoin extends JoinToWrite {
  readonly id: number
}

/** One word of the own list for objects. */
export interface ListedWord {
  /** What `finds.object_term` holds where it was chosen. */
  readonly key: string
  readonly name: string
  readonly otherNames: readonly string[]
  /** Key of the wider word in the same list. */
  readonly broader: string | null
}

export interface WordList {
  /** The file it came from. */
  readonly file: string | null
  readonly words: readonly ListedWord[]
}

/** A number that no find bears: `label` was given out on a label, `void` will never be used, and the note says why. */
export interface NumberNote {
  readonly number: string
  readonly state: 'label' | 'void'
  readonly note: string | null
  /** Seconds since 1970-01-01 UTC. */
  readonly notedAt: number
}

/**
 * The catalogue of a survey's finds. Each change is one transaction, one step of Undo, and in the journal; words say what it
 * was. Faults: those of `SurveyFile`; 'not-found' for a row that is not there; 'number-taken' for a number that another
 * find bears or that is not of the form CODE-YEAR-NNN.
 */
export interface FindCatalogue {
  /** All finds in the order they came. Cost: linear; a list is had cheaper from `light`. */
  all(): CataloguedFind[]
  /** All finds as a list shows them; `epsg` is the grid of easting and northing. Cost: linear, some 5 microseconds a find with the list made of it (bench/finds.ts). */
  light(epsg: number | null): LightFind[]
  one(id: number): CataloguedFind
  /** Null where no find bears the number. */
  withNumber(number: string): CataloguedFind | null
  /** How many finds a findspot has, by its row. */
  countAt(findspot: number): number
  /** A find without a number gets the next of its year. */
  add(finds: readonly FindToAdd[], what: string): CataloguedFind[]
  /** An edit that changes nothing leaves no trace. */
  change(edits: readonly FindEdit[], what: string): void
  /** Additions and changes as one step, with the file that they came from kept whole. The ids of what was added. */
  take(
    finds: readonly FindToAdd[],
    edits: readonly FindEdit[],
    what: string,
    from?: OriginalFile,
  ): readonly number[]
  /** Takes finds away with their photographs; their findspots, history and numbers stay. */
  remove(ids: readonly number[], what: string): void

  events(id: number): FindEvent[]
  /** UUIDs of the finds that have an entry of this kind. */
  withEvent(kind: string): ReadonlySet<string>
  /** One entry for each of the finds. */
  addEvent(ids: readonly number[], event: FindEventToAdd, what: string): void
  changes(id: number): FindChange[]

  photographs(id: number): StoredPhotograph[]
  photograph(id: number): StoredPhotograph
  thumbnail(id: number): Uint8Array
  /** All photographs with these bytes. */
  photographsWith(sha256: string): StoredPhotograph[]
  /** With `inside` the bytes are kept in the survey. */
  addPhotograph(find: number, photograph: PhotographToAdd, inside: OriginalFile | null): StoredPhotograph
  changePhotograph(id: number, patch: Partial<PhotographFacts>): StoredPhotograph
  removePhotograph(id: number): void

  joins(): StoredJoin[]
  /** Writes joins; one between the same two finds is changed. */
  writeJoins(joins: readonly JoinToWrite[], what: string): void

  /** The own list of words for objects; null where there is none. */
  wordList(): WordList | null
  /** Puts a list in place of the one there is, its file kept whole; an empty one takes it away. Keys must differ. */
  takeWordList(words: readonly ListedWord[], what: string, from: OriginalFile | null): void

  /** Gives out numbers for labels that no find bears yet, and remembers them. */
  reserve(year: number, count: number, note: string | null): string[]
  numberNotes(): NumberNote[]
  noteNumber(number: string, state: NumberNote['state'], note: string | null): void
  /** Numbers that a find bore once and what took them from it, by number; one borne again may be among them. */
  lostNumbers(): ReadonlyMap<string, { readonly what: string; readonly at: number }>
  /** Highest number given out of each year. */
  lastNumbers(): ReadonlyMap<number, number>
}
