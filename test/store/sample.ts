import { createHash } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { DatabaseSync } from 'node:sqlite'
import { onTestFinished } from 'vitest'
import type { Polygon } from '#core/geometry'
import { placementFromLines } from '#core/imagery'
import type { RecordedFind, RecordedFindspot, RecordedTrack } from '#core/record'
import {
  createSurveyFile,
  type LayerToAdd,
  type MarkFacts,
  type OriginalFile,
  type PlacedContent,
  type PlacedFindspot,
  type Surroundings,
  type SurveyFile,
} from '#store'

/** A folder that goes when the test ends. */
export function folderForTest(): string {
  const folder = mkdtempSync(join(tmpdir(), 'survey-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

/** A clock that moves a second a look, and UUIDs that count. */
export function steadySurroundings(by = 'Ann', seed = 0): Surroundings {
  let seconds = Date.UTC(2026, 2, 14, 10) / 1000
  let count = seed * 1_000_000
  return {
    by,
    now: () => new Date(seconds++ * 1000),
    uuid: () => `00000000-0000-4000-8000-${(count++).toString(16).padStart(12, '0')}`,
  }
}

export function newSurvey(path = join(folderForTest(), 'nst.gpkg')): SurveyFile {
  const survey = createSurveyFile(
    path,
    { code: 'NST', title: 'Ninestile Farm', demo: false },
    steadySurroundings(),
  )
  onTestFinished(() => {
    try {
      survey.close()
    } catch {
      // The test closed it.
    }
  })
  return survey
}

export function original(name: string, text = name): OriginalFile {
  const bytes = new TextEncoder().encode(text)
  return { name, kind: 'gpx', bytes, sha256: createHash('sha256').update(bytes).digest('hex') }
}

export const noContent: PlacedContent = { tracks: [], areas: [], findspots: [] }

const inJson = <Value>(value: Value): Value => JSON.parse(JSON.stringify(value))

export function layer(name: string, sha256 = 'a'.repeat(64)): LayerToAdd {
  return {
    name,
    kind: 'image',
    takenOn: '2026-07-02',
    columns: 4000,
    rows: 3000,
    bands: 4,
    sampleType: 'uint8',
    noData: 0,
    orientation: 1,
    nearInfraredBand: 4,
    epsg: 27700,
    systemText: null,
    // As JSON has it, which knows no minus nought.
    placing: inJson(
      placementFromLines({
        easting: 557_800,
        northing: 337_600,
        eastingPerColumn: 0.1,
        northingPerColumn: 0,
        eastingPerRow: 0,
        northingPerRow: -0.1,
      }),
    ),
    placedBy: 'file',
    tiePoints: [],
    expectedErrorM: 0.1,
    attribution: 'flown by Ann',
    gridEpsg: 27700,
    files: [
      {
        role: 'raster',
        name,
        path: `/pictures/${name}`,
        relativePath: `../pictures/${name}`,
        sha256,
        size: 123,
        firstColumn: 0,
        firstRow: 0,
      },
    ],
  }
}

export function square(west: number, south: number, side = 0.001): Polygon {
  const [east, north] = [west + side, south + side]
  return { rings: [Float64Array.of(west, south, east, south, east, north, west, north, west, south)] }
}

export function track(name = 'North strip, morning'): RecordedTrack {
  return {
    epsg: 4326,
    name,
    walked: true,
    xy: Float64Array.of(0.35, 53.01, 0.3501, 53.0101, 0.3502, 53.0102, 0.36, 53.02),
    segmentStart: Uint32Array.of(0, 3),
    time: Float64Array.of(1_700_000_000, 1_700_000_001.25, 1_700_000_002, Number.NaN),
    elevation: Float64Array.of(3.5, Number.NaN, 4, 5),
    hdop: Float64Array.of(0.9, 1.1, Number.NaN, 2),
    extras: [
      { name: 'sat', at: [0, 1, 2, 3], text: ['9', '10', '10', '8'] },
      { name: 'fix', at: [1, 3], text: ['3d', 'dgps'] },
    ],
    attributes: { desc: 'along the "terrace" é' },
  }
}

export function findspot(name: string, find: Partial<RecordedFind> | null = {}): PlacedFindspot {
  const recorded: RecordedFindspot = {
    epsg: 4326,
    name,
    x: 0.351,
    y: 53.0123,
    accuracyM: 3,
    elevation: null,
    time: 1_700_000_100,
    note: 'beside the droveway',
    find:
      find === null
        ? null
        : {
            number: null,
            object: 'buckle',
            material: 'copper alloy',
            period: null,
            count: 1,
            weightG: 4.25,
            depthM: 0.12,
            ...find,
          },
    attributes: { signal: 'strong' },
  }
  return { recorded, planar: { epsg: 27700, easting: 557_800.25, northing: 337_600.5, method: 'OSTN15' } }
}

/** A ring as a search would give it. */
export function ring(over: Partial<MarkFacts> = {}): MarkFacts {
  return {
    kind: 'ring',
    state: 'candidate',
    note: null,
    outline: { type: 'polygon', polygon: square(0.3502, 53.0102, 0.0003) },
    lon: 0.35035,
    lat: 53.01035,
    planar: { epsg: 27700, easting: 557_760.5, northing: 337_610.25, method: 'OSTN15' },
    diameterM: 20.5,
    ditchWidthM: 1.75,
    tone: 'dark',
    completeness: 0.75,
    arcGaps: [{ fromDeg: 350, toDeg: 440 }],
    ellipticity: 0.95,
    contrast: 3.5,
    score: 0.875,
    falseAlarmsPerKm2: 0.125,
    pairSpacingM: null,
    mayBe: [],
    layerId: 7,
    layerName: 'dry summer',
    view: { view: 'as-is' },
    settings: { most: 200 },
    seenAgain: [],
    madeBy: 'detector',
    edited: false,
    ...over,
  }
}

export function sampleContent(): PlacedContent {
  return {
    gridEpsg: 27700,
    tracks: [{ recorded: track(), given: null }],
    areas: [
      {
        recorded: {
          epsg: 4326,
          name: 'North strip',
          polygons: [square(0.35, 53.01)],
          attributes: { crop: 'stubble' },
        },
        given: null,
      },
    ],
    findspots: [findspot('A'), findspot('B', null)],
  }
}

/** Every row of every table of user data, as SQLite holds it, for comparison; indexes of the layers included. */
export function userRows(path: string): Record<string, unknown[]> {
  const db = new DatabaseSync(path, { readOnly: true })
  const tables = [
    ...['areas', 'tracks', 'findspots', 'finds', 'originals', 'survey', 'settings'],
    ...[
      'layers',
      'layer_files',
      'marks',
      'targets',
      'visits',
      'find_events',
      'photographs',
      'joins',
      'number_notes',
      'words',
    ],
    ...['permissions', 'ground_notes', 'plans', 'lanes', 'constraints'],
  ]
  const layers = ['areas', 'tracks', 'findspots', 'marks', 'targets', 'permissions', 'lanes', 'constraints']
  const rtrees = layers.map((layer) => `rtree_${layer}_geom`)
  const rows = [...tables, ...rtrees].map((table) => [
    table,
    db
      .prepare(`SELECT * FROM ${table} ORDER BY id`)
      .all()
      .map((row) => ({ ...row })),
  ])
  db.close()
  return Object.fromEntries(rows)
}
