import type { Polygon } from '#core/geometry'
import type { LandShape } from './land-geometry.ts'
import type { OriginalFile } from './survey-file.ts'

export type { LandShape } from './land-geometry.ts'

/** The written agreement: its name, size and SHA-256; `originalId` where its bytes lie inside the survey. */
export interface StoredAgreement {
  readonly name: string
  readonly sha256: string
  readonly size: number
  readonly originalId: number | null
}

/** Leave to search. Days are texts, 2026-11-25. */
export interface PermissionFacts {
  readonly name: string
  /** Who gave it and how to reach them: private, in no export. */
  readonly holder: string | null
  readonly contact: string | null
  /** The area that it is for, which may have been removed since; or its own boundary, in WGS84. Either may be missing. */
  readonly areaId: number | null
  readonly polygons: readonly Polygon[] | null
  readonly startsOn: string | null
  readonly endsOn: string | null
  readonly terms: string | null
  /** How finds are shared, as agreed. */
  readonly findsShare: string | null
  /** Gates, where to leave the car, whom to tell. */
  readonly access: string | null
}

export interface StoredPermission extends PermissionFacts {
  readonly id: number
  readonly uuid: string
  readonly agreement: StoredAgreement | null
  /** Seconds since 1970-01-01 UTC. */
  readonly madeAt: number | null
}

export type GroundNoteKind = 'crop' | 'ground' | 'access'

/** What the ground was like on a day. */
export interface GroundNoteFacts {
  readonly permissionId: number
  readonly kind: GroundNoteKind
  readonly notedOn: string
  readonly note: string
}
export interface StoredGroundNote extends GroundNoteFacts {
  readonly id: number
  readonly uuid: string
}

/** One lane of a plan, WGS84. Walkers and numbers count from 1; numbers are the order of one walker's walk. */
export interface LaneFacts {
  readonly walker: number
  readonly number: number
  readonly lengthM: number
  readonly xy: Float64Array
}

/** A plan as it is kept. The store does not look into `settings` and `figures` (JSON). */
export interface PlanFacts {
  readonly name: string
  readonly areaId: number
  readonly areaName: string
  readonly settings: unknown
  readonly figures: unknown
  /** What the plan came too near to when it was made, in sentences. */
  readonly clashes: readonly string[]
}
export interface StoredPlan extends PlanFacts {
  readonly id: number
  readonly uuid: string
  readonly madeAt: number | null
}

/** Something to be left alone. */
export interface ConstraintFacts {
  readonly name: string
  readonly kind: string
  /** Metres to keep clear of it. */
  readonly bufferM: number
  readonly shape: LandShape
}
export interface StoredConstraint extends ConstraintFacts {
  readonly id: number
  readonly uuid: string
  /** The file that it came in. */
  readonly sourceName: string | null
  readonly originalId: number | null
}

/** Permissions, plans and constraints of a survey. Faults: SurveyError not-found, and those of `SurveyFile`. */
export interface LandFile {
  permissions(): StoredPermission[]
  addPermission(facts: PermissionFacts): StoredPermission
  changePermission(id: number, edit: Partial<PermissionFacts>): StoredPermission
  /** Its notes go with it; an agreement kept inside stays among the originals. */
  removePermission(id: number): void
  /** Notes the agreement's name, size and SHA-256; with `inside`, keeps its bytes too. */
  attachAgreement(id: number, file: OriginalFile, inside: boolean): StoredPermission
  detachAgreement(id: number): StoredPermission

  groundNotes(): StoredGroundNote[]
  addGroundNote(facts: GroundNoteFacts): StoredGroundNote
  removeGroundNote(id: number): void

  plans(): StoredPlan[]
  plan(id: number): StoredPlan
  /** In the order of the walk, walker by walker; a lane whose geometry another program emptied is left out. */
  lanes(planId: number): LaneFacts[]
  keepPlan(facts: PlanFacts, lanes: readonly LaneFacts[]): StoredPlan
  renamePlan(id: number, name: string): StoredPlan
  removePlan(id: number): void

  constraints(): StoredConstraint[]
  /** Keeps the file among the originals. Returns what was added: nothing where constraints of this file are there already. */
  addConstraints(file: OriginalFile, facts: readonly ConstraintFacts[]): StoredConstraint[]
  /** Changes name, kind or buffer of some. */
  changeConstraints(ids: readonly number[], edit: Partial<Omit<ConstraintFacts, 'shape'>>): void
  removeConstraints(ids: readonly number[], what: string): void
}
