import type {
  ConstraintEdit,
  ConstraintSet,
  ConstraintsAdded,
  ConstraintWishes,
  LandClash,
  NewGroundNote,
  NewPermission,
  Permission,
  PermissionEdit,
} from '#contract'
import type { MadeFile, StartedJob } from '../desk-service.ts'

/** What the desk can ask of permissions and constraints. Planar values are in the survey's grid. Faults are SurveyErrors. */
export interface LandService {
  permissions(): Permission[]
  /** Faults: 'area-invalid', 'outside-grid' for a boundary; 'not-found' for an area that is none; 'bad-value' for days the wrong way round. */
  addPermission(permission: NewPermission): Permission
  changePermission(id: number, edit: PermissionEdit): Permission
  removePermission(id: number): void
  addNote(id: number, note: NewGroundNote): Permission
  removeNote(id: number): void
  /** Notes the written agreement at `path` under `name`; with `inside`, keeps its bytes. Faults: 'file-too-large', 'empty-file'. */
  attachAgreement(id: number, name: string, path: string, inside: boolean): Permission
  detachAgreement(id: number): Permission
  /** The agreement's bytes. Faults: 'not-found' while they are not inside the survey. */
  agreement(id: number): MadeFile

  constraints(): ConstraintSet[]
  /** Reads a file of ground, lines or places that are to be left alone. */
  startConstraints(name: string, path: string, wishes: ConstraintWishes): StartedJob<ConstraintsAdded>
  changeConstraints(id: number, edit: ConstraintEdit): void
  removeConstraints(id: number): void
  /** What of the search areas and targets comes too near to a constraint, or into ground to be left alone. */
  clashes(): LandClash[]
}
