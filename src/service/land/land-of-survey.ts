import { createHash } from 'node:crypto'
import { readFileSync, statSync } from 'node:fs'
import {
  type ConstraintEdit,
  type ConstraintSet,
  type ConstraintsAdded,
  type ConstraintWishes,
  type LandClash,
  type NewGroundNote,
  type NewPermission,
  newPermissionShape,
  type Permission,
  type PermissionEdit,
} from '#contract'
import { SurveyError } from '#core/faults'
import type { PlanarGrid } from '#core/geodesy'
import type { PermissionFacts, StoredPermission, SurveyFile } from '#store'
import { readFileInThread } from '#work'
import { storedArea } from '../area-edit.ts'
import type { MadeFile, StartedJob } from '../desk-service.ts'
import { surveyGrid } from '../ground.ts'
import type { SourceParts } from '../layers/layer-sources.ts'
import { placeContent } from '../place.ts'
import { projectedPolygons } from '../projecting.ts'
import { surroundings } from '../surroundings.ts'
import { nested } from '../views.ts'
import { constraintSets, constraintsOf } from './constraint-shapes.ts'
import { clashesWith, plannedOf } from './land-clashes.ts'
import type { LandService } from './land-service.ts'
import { dayOf, permissionState } from './permission-state.ts'

export interface LandParts {
  readonly start: SourceParts['start']
  /** Called after a change of the survey. */
  readonly changed: () => void
}

/** Scans of a few pages; more would swell the survey and every backup of it. */
const mostAgreementBytes = 50 * 1024 * 1024

/** Permissions and constraints of one open survey. What each method does is said at `LandService`. */
export class LandOfSurvey implements LandService {
  readonly #survey: SurveyFile
  readonly #parts: LandParts

  constructor(survey: SurveyFile, parts: LandParts) {
    this.#survey = survey
    this.#parts = parts
  }

  permissions(): Permission[] {
    const notes = this.#survey.land.groundNotes()
    const [grid, today] = [surveyGrid(this.#survey), dayOf(surroundings.now())]
    return this.#survey.land.permissions().map((stored) => {
      const { uuid: _uuid, madeAt: _madeAt, polygons, agreement, ...facts } = stored
      const inside = (agreement?.originalId ?? null) !== null
      return {
        ...facts,
        polygons: polygons && grid ? nested(projectedPolygons(polygons, grid.forward)) : null,
        agreement: agreement && {
          name: agreement.name,
          sha256: agreement.sha256,
          size: agreement.size,
          inside,
        },
        notes: notes
          .filter(({ permissionId }) => permissionId === stored.id)
          .map(({ id, kind, notedOn, note }) => ({ id, kind, notedOn, note })),
        ...permissionState(stored, today),
      }
    })
  }

  addPermission(given: NewPermission): Permission {
    const { polygons, ...facts } = newPermissionShape.parse(given)
    this.#checkFacts(facts)
    const boundary = this.#boundary(polygons)
    return this.#changed(this.#survey.land.addPermission({ ...facts, ...boundary }))
  }

  changePermission(id: number, { polygons, ...edit }: PermissionEdit): Permission {
    this.#checkFacts({ ...this.#stored(id), ...edit })
    const boundary = polygons === undefined ? {} : this.#boundary(polygons)
    return this.#changed(this.#survey.land.changePermission(id, { ...edit, ...boundary }))
  }

  removePermission(id: number): void {
    this.#survey.land.removePermission(id)
    this.#parts.changed()
  }

  addNote(id: number, note: NewGroundNote): Permission {
    this.#survey.land.addGroundNote({ permissionId: id, ...note })
    return this.#changed({ id })
  }

  removeNote(id: number): void {
    this.#survey.land.removeGroundNote(id)
    this.#parts.changed()
  }

  attachAgreement(id: number, name: string, path: string, inside: boolean): Permission {
    const { size } = statSync(path)
    if (size === 0)
      throw new SurveyError('empty-file', `${name} holds nothing; choose the agreement's own file.`)
    if (size > mostAgreementBytes) {
      const most = `${mostAgreementBytes / 1024 ** 2} MiB`
      throw new SurveyError(
        'file-too-large',
        `${name} is larger than ${most}, the most for an agreement: scan it smaller.`,
      )
    }
    const bytes = readFileSync(path)
    const sha256 = createHash('sha256').update(bytes).digest('hex')
    const file = { name, kind: 'agreement', bytes, sha256 }
    return this.#changed(this.#survey.land.attachAgreement(id, file, inside))
  }

  detachAgreement(id: number): Permission {
    return this.#changed(this.#survey.land.detachAgreement(id))
  }

  agreement(id: number): MadeFile {
    const { name, agreement } = this.#stored(id)
    if (!agreement || agreement.originalId === null) {
      const where = agreement
        ? `only its name and SHA-256 are kept; look for ${agreement.name}`
        : 'none is attached'
      throw new SurveyError('not-found', `The agreement of ${name} is not inside the survey: ${where}.`)
    }
    const bytes = this.#survey.originalBytes(agreement.originalId)
    return { fileName: agreement.name, mediaType: 'application/octet-stream', bytes, features: 1 }
  }

  constraints(): ConstraintSet[] {
    const grid = surveyGrid(this.#survey)
    return grid ? constraintSets(this.#survey.land.constraints(), grid) : []
  }

  startConstraints(name: string, path: string, wishes: ConstraintWishes): StartedJob<ConstraintsAdded> {
    const grid = this.#grid()
    return this.#parts.start('import', `reading ${name}`, async (options) => {
      const read = await readFileInThread(name, path, { ...options, epsg: grid.epsg })
      const { placed, faults } = placeContent(read.content, grid)
      const facts = constraintsOf(placed, wishes.kind, wishes.bufferM)
      if (facts.length === 0)
        throw new SurveyError('unknown-kind', `${name} holds no ground, line or place to keep clear of.`)
      const file = { name, kind: read.content.kind, bytes: read.bytes, sha256: read.sha256 }
      const added = this.#survey.land.addConstraints(file, facts).length
      this.#parts.changed()
      return { added, alreadyThere: added === 0, faults: [...read.content.faults, ...faults] }
    })
  }

  changeConstraints(id: number, edit: ConstraintEdit): void {
    this.#survey.land.changeConstraints(this.#set(id).ids, edit)
    this.#parts.changed()
  }

  removeConstraints(id: number): void {
    const { ids, source } = this.#set(id)
    this.#survey.land.removeConstraints(ids, `the constraints of ${source}`)
    this.#parts.changed()
  }

  clashes(): LandClash[] {
    const grid = surveyGrid(this.#survey)
    return grid ? clashesWith(this.#survey, grid, plannedOf(this.#survey, grid)) : []
  }

  #set(id: number): { readonly ids: number[]; readonly source: string } {
    const members = this.#survey.land.constraints().filter(({ originalId }) => (originalId ?? 0) === id)
    const [first] = members
    if (!first) throw new SurveyError('not-found', `There are no constraints ${id} in the survey.`)
    return { ids: members.map((member) => member.id), source: first.sourceName ?? 'another program' }
  }

  #stored(id: number): StoredPermission {
    const found = this.#survey.land.permissions().find((each) => each.id === id)
    if (found) return found
    throw new SurveyError('not-found', `There is no permission ${id}; it may have been removed.`)
  }

  #checkFacts({ startsOn, endsOn, areaId }: Pick<PermissionFacts, 'startsOn' | 'endsOn' | 'areaId'>): void {
    if (startsOn !== null && endsOn !== null && endsOn < startsOn) {
      const sentence = `The last day, ${endsOn}, lies before the first, ${startsOn}: turn them round.`
      throw new SurveyError('bad-value', sentence)
    }
    if (areaId !== null && !this.#survey.areas().some(({ id }) => id === areaId))
      throw new SurveyError('not-found', `There is no area ${areaId} in the survey; choose another.`)
  }

  #boundary(polygons: NewPermission['polygons']): Pick<PermissionFacts, 'polygons'> {
    if (polygons === null || polygons === undefined) return { polygons: null }
    return { polygons: storedArea({ name: 'boundary', polygons }, this.#grid()).polygons }
  }

  #grid(): PlanarGrid {
    const grid = surveyGrid(this.#survey)
    if (grid) return grid
    throw new SurveyError(
      'no-track',
      'The survey does not know yet where it lies: go to a place, or bring in an area or a track first.',
    )
  }

  #changed({ id }: { readonly id: number }): Permission {
    this.#parts.changed()
    return this.permissions().find((each) => each.id === id)!
  }
}
