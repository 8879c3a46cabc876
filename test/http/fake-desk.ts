import { readFile } from 'node:fs/promises'
import {
  type AreaView,
  type BaseMaps,
  type CoverView,
  defaultSettings,
  type ImportedFile,
  type Job,
  type Settings,
  type SurveyView,
} from '#contract'
import { SurveyError } from '#core/faults'
import type { DeskEvent, DeskService, StartedJob } from '#service'
import { fakeFinds } from './fake-finds.ts'
import { fakeLand, fakePlans } from './fake-land.ts'
import { fakeLayers } from './fake-layers.ts'
import { fakeMarks } from './fake-marks.ts'
import { fakeVisits } from './fake-visits.ts'

/**
 * A test double for the routes: it keeps a survey in memory, works nothing out, and reads nothing of a file but its bytes.
 * What it says about ground covered is made up. Tests end long work by `release` and `fail`.
 */
export interface FakeDesk extends DeskService {
  /** What startImport was given, in order, with the bytes that lay at the path. */
  readonly imported: { name: string; path: string; bytes: Buffer; together: readonly string[] }[]
  readonly listeners: Set<(event: DeskEvent) => void>
  /** Ends a running job well. */
  release(job: string): void
  /** Ends a running job by an error. */
  fail(job: string, error: Error): void
  /** While true, imports wait for `release`; else they end by themselves. */
  holdImports: boolean
  tell(event: DeskEvent): void
}

const frame = { epsg: 27700, west: 560_000, north: 350_000, cellM: 0.1, columns: 4000, rows: 3000 }

export const somewhere: AreaView['polygons'] = [
  [
    [
      [560_000, 349_900],
      [560_100, 349_900],
      [560_100, 350_000],
      [560_000, 349_900],
    ],
  ],
]

export const madeUpCover: CoverView = {
  areaM2: 5000,
  coveredM2: 4000,
  coveredShare: 0.8,
  expectedShare: null,
  passes: { mean: 1.1, max: 4 },
  gaps: { count: 1, areaM2: 12, largestM2: 12 },
  distanceM: 3000,
  walkingS: 3600,
  seconds: 0.1,
  cellM: 0.1,
  notes: ['Made up for a test.'],
  id: 'cover-1',
  madeAt: '2026-01-02T03:04:05.000Z',
  settings: defaultSettings,
  frame,
  finds: 2,
  findsPerHour: 2,
  findsPerHectare: 4,
}

/** A PNG of one transparent pixel, from the PNG specification's own structure. */
export const onePixel = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
  'base64',
)

const noneAdded = { tracks: 0, fixes: 0, findspots: 0, areas: 0, finds: 0, layers: 0, photos: 0 }

interface Held {
  job: Job
  release: () => void
  fail: (state: Job['state'], error: Error) => void
}

function heldWork<Result>(
  held: Map<string, Held>,
  kind: Job['kind'],
  result: () => Result,
): StartedJob<Result> {
  const id = `${kind}-${held.size + 1}`
  let resolve!: (value: Result) => void
  let reject!: (reason: Error) => void
  const done = new Promise<Result>((yes, no) => {
    resolve = yes
    reject = no
  })
  const job: Job = { id, kind, label: 'waiting for the test', done: 0.5, state: 'running', error: null }
  const end = (state: Job['state']): void => {
    entry.job = { ...entry.job, state, done: 1 }
  }
  const entry: Held = {
    job,
    release: () => {
      end('done')
      resolve(result())
    },
    fail: (state, error) => {
      end(state)
      reject(error)
    },
  }
  held.set(id, entry)
  return { job: id, done }
}

export function fakeDesk(): FakeDesk {
  const areas = new Map<number, AreaView>()
  const held = new Map<string, Held>()
  const listeners = new Set<(event: DeskEvent) => void>()
  const imported: FakeDesk['imported'] = []
  const files = ['NST.gpkg', 'OTH.gpkg']
  let settings: Settings = defaultSettings
  let baseMaps: BaseMaps = { maps: [], shown: null }
  let revision = 1
  let open = 'NST.gpkg'
  let nextArea = 1

  const tell = (event: DeskEvent): void => {
    for (const listener of listeners) listener(event)
  }
  const changed = (): void => {
    revision += 1
    tell({ type: 'survey', revision })
  }
  const area = (id: number): AreaView => {
    const found = areas.get(id)
    if (!found) throw new SurveyError('not-found', `There is no search area ${id}.`)
    return found
  }
  const view = (): SurveyView => ({
    file: open,
    code: 'NST',
    title: 'Made up for a test',
    demo: false,
    grid: { epsg: 27700, name: 'British National Grid', method: 'OSTN15', expectedErrorM: 0.1 },
    bounds: [560_000, 349_900, 560_100, 350_000],
    settings,
    counts: { areas: areas.size, tracks: 1, fixes: 2, findspots: 1, finds: 1 },
    marks: { candidate: 1, accepted: 0, unsure: 0, rejected: 0, targets: 0 },
    revision,
    undo: null,
    cover: madeUpCover,
    coverStale: false,
  })
  const importedFile = (name: string, bytes: Buffer): ImportedFile => ({
    name,
    sha256: 'not worked out here',
    kind: 'gpx',
    added: { ...noneAdded, fixes: bytes.length },
    alreadyThere: false,
    faults: [],
    bounds: null,
  })

  const desk: FakeDesk = {
    imported,
    listeners,
    holdImports: false,
    tell,
    release: (job) => held.get(job)?.release(),
    fail: (job, error) => held.get(job)?.fail('failed', error),
    view,
    tracks: () => [
      { id: 7, name: 'first', walked: true, fixes: 2, start: null, end: null, sourceFile: 'a.gpx' },
    ],
    trackLine: (id, toleranceM) => {
      if (id !== 7) throw new SurveyError('not-found', `There is no track ${id}.`)
      return Float64Array.of(560_000.25, 350_000.5, Number.NaN, Number.NaN, toleranceM, -0)
    },
    areas: () => [...areas.values()],
    addArea: (edit) => {
      const made = { id: nextArea++, areaM2: 5000, kind: 'search' as const, ...edit }
      areas.set(made.id, made)
      changed()
      return made
    },
    changeArea: (id, edit) => {
      const made = { ...area(id), ...edit }
      areas.set(id, made)
      changed()
      return made
    },
    removeArea: (id) => {
      areas.delete(area(id).id)
      changed()
    },
    findspots: () => [],
    gaps: () => [{ id: 1, areaM2: 12, polygons: somewhere }],
    coverTile: async (id, level, column, row) =>
      id === madeUpCover.id && level === 0 && column === 0 && row === 0 ? onePixel : null,
    changeSettings: (patch) => {
      settings = { ...settings, ...patch }
      changed()
      return settings
    },
    undo: () => ({ undone: null }),
    startImport: (name, path, together) => {
      const keep = readFile(path).then((bytes) => {
        imported.push({ name, path, bytes, together })
        return importedFile(name, bytes)
      })
      if (!desk.holdImports) return { job: 'import-0', done: keep }
      return heldWork(held, 'import', () => importedFile(name, Buffer.alloc(0)))
    },
    layers: fakeLayers(changed),
    marks: fakeMarks(changed, (kind, result) => heldWork(held, kind, result)),
    land: fakeLand(changed),
    plans: fakePlans(),
    visits: fakeVisits(() => heldWork(held, 'chances', () => undefined)),
    baseMaps: {
      list: () => baseMaps,
      keep: (maps) => {
        baseMaps = maps
        return maps
      },
      shownOrigin: () => (baseMaps.shown === null ? null : 'https://tiles.example.org'),
    },
    shiftGrid: () => Uint8Array.of(1, 2, 3),
    finds: fakeFinds(),
    startCover: () => {
      if (areas.size === 0) throw new SurveyError('no-area', 'There is no search area: draw one first.')
      return heldWork(held, 'cover', () => madeUpCover)
    },
    cancel: (job) => {
      const found = held.get(job)
      if (found?.job.state !== 'running') return false
      found.fail('cancelled', new SurveyError('cancelled', 'The work was cancelled.'))
      return true
    },
    jobs: () => [...held.values()].map((entry) => entry.job),
    onEvent: (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    exportFile: (what, format) => {
      if (what === 'finds') throw new SurveyError('nothing-to-export', 'There are no finds to write.')
      return {
        fileName: `../NST "${what}" Ærø.${format}`,
        mediaType: 'application/gpx+xml',
        bytes: Buffer.from('made up'),
        features: 1,
      }
    },
    place: (text) => {
      if (text === 'nowhere') throw new SurveyError('bad-coordinate', 'That is no coordinate.')
      return {
        text,
        lat: 53,
        lon: 0.36,
        easting: 558_450,
        northing: 347_550,
        square: null,
        gridRef: 'TF 584 475',
        utm: '31N 322900 5875300',
        mgrs: '31U CU 229 753',
        dms: '53 N',
        precisionM: 100,
        accuracyM: 71,
        usualEpsg: 27_700,
        warnings: [],
      }
    },
    line: ([e1, n1], [e2, n2]) => ({
      groundM: Math.hypot(e2 - e1, n2 - n1),
      gridM: Math.hypot(e2 - e1, n2 - n1),
      gridBearing: 90,
      trueBearing: 92,
      convergence: 2,
      magnetic: null,
    }),
    startGrid: (epsg) => {
      if (epsg === 1) throw new SurveyError('outside-grid', 'That is no grid.')
      return view()
    },
    landownerReport: async () => ({
      fileName: 'nst-landowner.pdf',
      mediaType: 'application/pdf',
      bytes: Buffer.from('made up'),
      features: 1,
    }),
    surveys: () => ({
      folder: '/somewhere',
      surveys: files.map((file) => ({
        file,
        code: file.slice(0, 3),
        title: file,
        open: file === open,
        changedAt: '2026-01-02T03:04:05.000Z',
      })),
    }),
    newSurvey: ({ code }) => {
      const file = `${code}.gpkg`
      if (files.includes(file)) throw new SurveyError('survey-exists', `There is a survey ${file} already.`)
      files.push(file)
      open = file
      return view()
    },
    openSurvey: (file) => {
      open = file
      return view()
    },
    close: () => {},
  }
  return desk
}
