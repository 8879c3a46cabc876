import type { Connection } from './connection.ts'
import { changeConstraints, readConstraints, removeConstraints, writeConstraints } from './constraint-rows.ts'
import type * as Land from './land-file.ts'
import * as Permissions from './permission-rows.ts'
import { planOf, readLanes, readPlans, removePlan, renamePlan, writePlan } from './plan-rows.ts'
import type { OriginalFile } from './survey-file.ts'
import type { Writer } from './writer.ts'

/** What an open survey lends: reads of one moment, actions that Undo takes back, fresh UUIDs. */
export interface LandAccess {
  read<Result>(work: (on: Connection) => Result): Result
  act<Result>(what: string, work: (writer: Writer) => Result): Result
  uuid(): string
}

/** The land and plans of an open survey. What each method does is said at `LandFile`. */
export class OpenLand implements Land.LandFile {
  readonly #at: LandAccess

  constructor(access: LandAccess) {
    this.#at = access
  }

  permissions(): Land.StoredPermission[] {
    return this.#at.read(Permissions.readPermissions)
  }

  addPermission(facts: Land.PermissionFacts): Land.StoredPermission {
    const uuid = this.#at.uuid()
    return this.#at.act(`permission ${facts.name}`, (writer) =>
      Permissions.writePermission(writer, facts, uuid),
    )
  }

  changePermission(id: number, edit: Partial<Land.PermissionFacts>): Land.StoredPermission {
    return this.#at.act(`change of permission ${this.#permission(id)}`, (writer) =>
      Permissions.changePermission(writer, id, edit),
    )
  }

  removePermission(id: number): void {
    this.#at.act(`removal of permission ${this.#permission(id)}`, (writer) =>
      Permissions.removePermission(writer, id),
    )
  }

  attachAgreement(id: number, file: OriginalFile, inside: boolean): Land.StoredPermission {
    const uuid = () => this.#at.uuid()
    return this.#at.act(`agreement ${file.name}`, (writer) =>
      Permissions.attachAgreement(writer, id, { file, inside, uuid }),
    )
  }

  detachAgreement(id: number): Land.StoredPermission {
    return this.#at.act(`removal of the agreement of ${this.#permission(id)}`, (writer) =>
      Permissions.detachAgreement(writer, id),
    )
  }

  groundNotes(): Land.StoredGroundNote[] {
    return this.#at.read(Permissions.readGroundNotes)
  }

  addGroundNote(facts: Land.GroundNoteFacts): Land.StoredGroundNote {
    const uuid = this.#at.uuid()
    return this.#at.act(`note of ${facts.notedOn}`, (writer) =>
      Permissions.writeGroundNote(writer, facts, uuid),
    )
  }

  removeGroundNote(id: number): void {
    this.#at.act('removal of a note', (writer) => Permissions.removeGroundNote(writer, id))
  }

  plans(): Land.StoredPlan[] {
    return this.#at.read(readPlans)
  }

  plan(id: number): Land.StoredPlan {
    return this.#at.read((on) => planOf(on, id))
  }

  lanes(planId: number): Land.LaneFacts[] {
    return this.#at.read((on) => readLanes(on, planId))
  }

  keepPlan(facts: Land.PlanFacts, lanes: readonly Land.LaneFacts[]): Land.StoredPlan {
    const uuid = () => this.#at.uuid()
    return this.#at.act(`plan ${facts.name}`, (writer) => writePlan(writer, facts, lanes, uuid))
  }

  renamePlan(id: number, name: string): Land.StoredPlan {
    return this.#at.act(`new name of plan ${this.plan(id).name}`, (writer) => renamePlan(writer, id, name))
  }

  removePlan(id: number): void {
    this.#at.act(`removal of plan ${this.plan(id).name}`, (writer) => removePlan(writer, id))
  }

  constraints(): Land.StoredConstraint[] {
    return this.#at.read(readConstraints)
  }

  addConstraints(file: OriginalFile, facts: readonly Land.ConstraintFacts[]): Land.StoredConstraint[] {
    const uuid = () => this.#at.uuid()
    return this.#at.act(`constraints of ${file.name}`, (writer) =>
      writeConstraints(writer, file, facts, uuid),
    )
  }

  changeConstraints(ids: readonly number[], edit: Partial<Omit<Land.ConstraintFacts, 'shape'>>): void {
    this.#at.act('change of constraints', (writer) => changeConstraints(writer, ids, edit))
  }

  removeConstraints(ids: readonly number[], what: string): void {
    this.#at.act(`removal of ${what}`, (writer) => removeConstraints(writer, ids))
  }

  #permission(id: number): string {
    return this.#at.read((on) => Permissions.permissionOf(on, id)).name
  }
}
