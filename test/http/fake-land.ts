import type { LaneFigures, Permission, Plan, PlanPreview } from '#contract'
import { SurveyError } from '#core/faults'
import type { LandService, PlanService } from '#service'

/** A permission as the doubles tell of it. */
export const madeUpPermission: Permission = {
  id: 5,
  name: 'Made up for a test',
  holder: 'A. Tenant',
  contact: null,
  areaId: null,
  polygons: null,
  startsOn: '2026-09-01',
  endsOn: null,
  terms: null,
  findsShare: null,
  access: null,
  agreement: null,
  notes: [],
  state: 'open',
  stateText: 'Made up for a test.',
}

const missing = (what: string): SurveyError => new SurveyError('not-found', `There is no ${what}.`)

/** A double of the land: one permission, no constraints. Names of files that came are kept in `terms`. */
export function fakeLand(changed: () => void): LandService {
  let permission = madeUpPermission
  const change = (id: number, edit: Partial<Permission>): Permission => {
    if (id !== permission.id) throw missing(`permission ${id}`)
    permission = { ...permission, ...edit }
    changed()
    return permission
  }
  return {
    permissions: () => [permission],
    addPermission: ({ name }) => ({ ...madeUpPermission, id: 6, name }),
    changePermission: (id, edit) => change(id, edit),
    removePermission: (id) => void change(id, {}),
    addNote: (id, note) => change(id, { notes: [{ id: 1, ...note }] }),
    removeNote: (id) => {
      if (id !== 1) throw missing(`note ${id}`)
    },
    attachAgreement: (id, name, _path, inside) =>
      change(id, { agreement: { name, sha256: 'not worked out here', size: 1, inside } }),
    detachAgreement: (id) => change(id, { agreement: null }),
    agreement: (id) => {
      if (id !== permission.id) throw missing(`permission ${id}`)
      return {
        fileName: 'leave.pdf',
        mediaType: 'application/octet-stream',
        bytes: Buffer.from('made up'),
        features: 1,
      }
    },
    constraints: () => [],
    startConstraints: (name, _path, { bufferM }) => ({
      job: 'import-9',
      done: Promise.resolve({
        added: bufferM,
        alreadyThere: false,
        faults: [{ line: null, code: 'assumed', text: name }],
      }),
    }),
    changeConstraints: (id) => {
      throw missing(`set ${id}`)
    },
    removeConstraints: (id) => {
      throw missing(`set ${id}`)
    },
    clashes: () => [],
  }
}

const figures: LaneFigures = {
  lanes: 1,
  lengthM: 10,
  turns: 0,
  bearing: 0,
  betweenM: 0,
  outsideM: 0,
  hours: 0.1,
  restHours: 0,
  areaM2: 20,
  spacingM: 2,
  pattern: 'parallel',
  parts: [],
  walkers: [],
  notes: [],
}
const lanes = [{ walker: 1, number: 1, lengthM: 10, xy: [0, 0, 0, 10] }]
const light: PlanPreview['light'] = {
  day: '2026-11-25',
  sun: { rise: null, set: null, all: 'above' },
  civil: { rise: null, set: null, all: 'above' },
  hours: 24,
  fits: true,
  leftHours: null,
}
const plan: Plan = {
  id: 2,
  name: 'Made up',
  areaId: 1,
  areaName: 'Field',
  wishes: null,
  figures,
  clashes: [],
  lanes: 1,
  madeAt: null,
}

/** A double of the plans: one plan of one lane, and nothing is worked out. */
export function fakePlans(): PlanService {
  const own = (id: number): Plan => {
    if (id !== plan.id) throw missing(`plan ${id}`)
    return plan
  }
  return {
    preview: async ({ areaId }) => {
      if (areaId !== 1) throw missing(`area ${areaId}`)
      return { figures, lanes, ways: [], light, clashes: [], leave: [] }
    },
    bearing: async ({ layerId }) => {
      if (layerId !== 1) throw missing(`layer ${layerId}`)
      return { bearing: 75, spreadDeg: 2, slopeDeg: null, clear: true, text: 'made up' }
    },
    list: () => [plan],
    lanes: (id) => (own(id).lanes === 1 ? lanes : []),
    keep: async ({ name }) => ({ ...plan, name }),
    rename: (id, name) => ({ ...own(id), name }),
    remove: (id) => void own(id),
    pack: async (id) => ({
      fileName: 'a.zip',
      mediaType: 'application/zip',
      bytes: Buffer.from('made up'),
      features: own(id).lanes,
    }),
    sheet: async (id) => ({
      fileName: 'a.pdf',
      mediaType: 'application/pdf',
      bytes: Buffer.from('made up'),
      features: own(id).lanes,
    }),
    light: (day) => ({ ...light, day: day ?? light.day }),
    handheld: (id, { length, ascii }) => {
      own(id)
      const bytes = Buffer.from(`${String(length)} ${ascii}`)
      return { fileName: 'plan.gpx', mediaType: 'application/gpx+xml', bytes, features: 1 }
    },
  }
}
