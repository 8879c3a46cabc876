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
  Vocabularies,
} from '#contract'
import type { PhotographRole } from '#core/finds'
import type { MadeFile } from '../desk-service.ts'
import type { TableWishes } from './find-tables.ts'

/** What the desk can ask of the finds of its survey. Every change is one step of Undo. Faults are SurveyErrors. */
export interface FindsService {
  list(): FindList
  /** Faults: 'not-found'. */
  one(id: number): FindView
  /** The find that a number or the code of a label names. Faults: 'not-found' with what is known of the number. */
  named(text: string): FindView
  /** Faults: 'number-taken', 'bad-coordinate', 'outside-grid', 'not-found'. */
  add(find: NewFind): FindView
  /** Faults: as of `add`. */
  change(id: number, edit: FindEditRequest): FindView
  changeMany(edit: BulkEdit): void
  remove(ids: readonly number[]): void
  history(id: number): History
  addEvent(event: NewEvent): void
  /**
   * Takes in the picture at `path`, which is the service's to move. Faults: 'file-too-large', 'unsupported-feature' (HEIC, with what to do),
   * 'unknown-kind', 'broken-file', 'not-found', 'disk-full', 'cannot-write'.
   */
  addPhotograph(find: number, name: string, role: PhotographRole, path: string): Promise<PhotographReply>
  changePhotograph(id: number, edit: PhotographEdit): PhotographView
  removePhotograph(id: number): void
  /** JPEG, upright, with nothing of what the camera wrote: small, or as large as a screen. Faults: 'not-found' also for a file that is gone. */
  picture(id: number, size: 'small' | 'screen'): Promise<Uint8Array>
  numbers(): Numbers
  noteNumber(note: NumberNoteRequest): void
  joins(): JoinView[]
  /** Puts forward pairs of fragments that may be of one object, and that nobody has decided on. */
  proposeJoins(how: ProposeJoins): ProposedJoins
  changeJoin(edit: JoinEdit): void
  /** Makes the finds one group by accepted joins. Faults: 'not-found', 'bad-value' for fewer than two. */
  joinTogether(ids: readonly number[]): void
  /** Takes every accepted join among the finds back. Faults: as of `joinTogether`. */
  part(ids: readonly number[]): void
  vocabularies(): Vocabularies
  /** The survey's own list of words for objects; null where it has none. */
  objectList(): ObjectList | null
  /** Puts the list in the file at `path` (CSV, xlsx) in its place. Faults: those of the file, 'missing-columns', 'empty-file'. */
  takeObjectList(name: string, path: string): Promise<ObjectListReply>
  dropObjectList(): void
  /** Labels as PDF. Faults: 'nothing-to-export', 'not-found', 'setting-out-of-range'. */
  labels(request: LabelsRequest): Promise<MadeFile>
  /** A table of finds (CSV, xlsx) at `path`: what it would do, or, with `write`, has done. Faults: those of the file. */
  table(name: string, path: string, wishes: TableWishes): Promise<FindsTableReply>
  /** The catalogue as a file. Faults: 'nothing-to-export'. */
  export(how: FindsExport): Promise<MadeFile>
}
