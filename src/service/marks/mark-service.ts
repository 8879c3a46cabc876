import type {
  ChipAddress,
  Mark,
  MarkEdit,
  MarkSearch,
  NewMark,
  NewTarget,
  SoughtKind,
  Target,
  TargetEdit,
} from '#contract'
import type { StartedJob } from '../desk-service.ts'
import type { LayerTile } from '../layers/layer-service.ts'

/** What a search came to. */
export interface SearchOutcome {
  /** Candidates that the detector gave. */
  readonly found: number
  readonly added: number
  /** Known before, and of these how many had been rejected. */
  readonly known: number
  readonly rejectedBefore: number
  /** Candidates of an earlier search of the same kind that were not found again and that nobody had looked at. */
  readonly dropped: number
}

/** What the desk can ask of the marks and targets of its survey. Faults are SurveyErrors. */
export interface MarkService {
  /** In the order they came. Those that the survey's grid does not reach are left out. */
  list(): Mark[]
  /**
   * Looks for marks of one kind on a layer; with lines it finds enclosures. What is known already is not added again, whatever was decided of it. The job's last label says what
   * it came to. Faults: 'not-found', 'setting-out-of-range', 'raster-too-large', 'unsupported-feature' at once; 'cancelled' and those of the layer by the job.
   */
  search(search: MarkSearch): StartedJob<SearchOutcome>
  /** Faults: 'outside-grid', 'area-invalid', 'no-track' while the survey has no grid. */
  add(mark: NewMark): Mark
  /** Faults: 'not-found', 'outside-grid', 'area-invalid', 'setting-out-of-range' for a diameter of what has none. */
  change(id: number, edit: MarkEdit): Mark
  remove(id: number): void
  /** Takes out all candidates that a search (of one kind, or any) found and nobody has decided on, moved or noted. Returns how many. */
  removeUndecided(kind: SoughtKind | null): number
  /** A square of 256 x 256 pixels of a layer about a mark's middle, north up. Faults: those of a layer's tile. */
  chip(id: number, address: ChipAddress, signal?: AbortSignal): Promise<LayerTile>
  /** The target at a mark's middle: the one there is, or a new one. */
  makeTarget(id: number): Target
  targets(): Target[]
  addTarget(target: NewTarget): Target
  changeTarget(id: number, edit: TargetEdit): Target
  removeTarget(id: number): void
}
