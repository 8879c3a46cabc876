import { spawnSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { DatabaseSync } from 'node:sqlite'
import { describe, expect, test } from 'vitest'
import { openSurveyFile, type SurveyFile } from '#store'
import {
  findspot,
  newSurvey,
  noContent,
  original,
  sampleContent,
  square,
  steadySurroundings,
  track,
} from './sample.ts'

/** These tests run wherever GDAL's programs are (Debian: gdal-bin). Made against GDAL 3.6.2. */
const lister = 'ogrinfo'
const version = spawnSync(lister, ['--version'], { encoding: 'utf8' }).stdout
const gdal = (program: 'ogrinfo' | 'ogr2ogr', ...args: string[]) => {
  const { stdout, stderr, status } = spawnSync(program, args, { encoding: 'utf8' })
  expect({ program, args, stderr, status }).toEqual({ program, args, stderr: '', status: 0 })
  return stdout
}
const sql = (survey: SurveyFile, statement: string) => gdal('ogrinfo', survey.path, '-sql', statement)

function filled(): SurveyFile {
  const survey = newSurvey()
  survey.addFile(original('walk.gpx'), sampleContent())
  survey.saveCover({
    id: 'c',
    settings: {},
    figures: {},
    frame: {},
    passes: Uint8Array.of(1),
    groundRevision: 1,
    gaps: [{ areaM2: 5.5, polygon: square(0.3501, 53.0101, 0.0001) }],
  })
  return survey
}

/** GDAL's own checker of GeoPackages, where its Python part is installed (Debian: python3-gdal). */
const checker = ['python3', '/usr/bin/python3'].find(
  (python) => spawnSync(python, ['-c', 'import osgeo_utils.samples.validate_gpkg']).status === 0,
)

describe.skipIf(checker === undefined)('the checker of GDAL', () => {
  test('finds nothing but that two triggers have the names of GeoPackage 1.4', () => {
    const survey = filled()
    const args = ['-m', 'osgeo_utils.samples.validate_gpkg', '-k', survey.path]
    const { stdout, stderr } = spawnSync(checker!, args, { encoding: 'utf8' })
    // Version 3.6.2 knows the four names of 1.3 only; why ours are others: docs/decisions/0002-geopackage-on-node-sqlite.md.
    const others = stdout
      .split('\n')
      .filter((line) => line !== '' && !/_update[13] trigger missing$/.test(line))
    expect([others, stderr]).toEqual([[], ''])
  })
})

describe.skipIf(version === null)('GDAL', () => {
  test('lists the layers without a warning, open for reading or for writing', () => {
    const survey = filled()
    for (const mode of [['-ro'], []]) {
      const layers = gdal('ogrinfo', ...mode, survey.path).match(/^\d+: .*$/gm)
      expect(layers).toEqual([
        '1: areas (Multi Polygon)',
        '2: tracks (3D Measured Multi Line String)',
        '3: findspots (Point)',
        '4: gaps (Polygon)',
        '5: marks',
        '6: targets (Point)',
        '7: permissions (Multi Polygon)',
        '8: lanes (Line String)',
        '9: constraints',
        '10: finds (None)',
        '11: ground_notes (None)',
        '12: plans (None)',
        '13: visits (None)',
        '14: find_events (None)',
        '15: photographs (None)',
        '16: joins (None)',
        '17: number_notes (None)',
        '18: words (None)',
      ])
    }
  })

  test('reads every geometry and value as it was stored', () => {
    const survey = filled()
    const text = gdal('ogrinfo', '-ro', '-al', survey.path)
    expect(text).toContain(
      'MULTILINESTRING ZM ((0.35 53.01 3.5 1700000000,0.3501 53.0101 nan 1700000001.25,0.3502 53.0102 4 1700000002),(0.36 53.02 5 nan,0.36 53.02 5 nan))',
    )
    expect(text).toContain('MULTIPOLYGON (((0.35 53.01,0.351 53.01,0.351 53.011,0.35 53.011,0.35 53.01)))')
    expect(text).toContain('POINT (0.351 53.0123)')
    expect(text).toContain(
      'POLYGON ((0.3501 53.0101,0.3502 53.0101,0.3502 53.0102,0.3501 53.0102,0.3501 53.0101))',
    )
    for (const value of [
      'walked (Integer(Boolean)) = 1',
      'started_at (DateTime) = 2023/11/14 22:13:20+00',
      'easting (Real) = 557800.25',
      'grid_method (String) = OSTN15',
      'number (String) = NST-2023-001',
      'weight_g (Real) = 4.25',
      'area_m2 (Real) = 5.5',
    ]) {
      expect(text).toContain(value)
    }
  })

  test('finds features by its spatial index', () => {
    const survey = filled()
    const count = (...box: number[]) =>
      gdal('ogrinfo', '-ro', '-so', '-spat', ...box.map(String), survey.path, 'findspots').match(
        /Feature Count: (\d+)/,
      )?.[1]
    expect([count(0.35, 53.01, 0.36, 53.02), count(1, 53, 2, 54)]).toEqual(['2', '0'])
  })

  test('changes attributes and geometry, which are seen in the open survey and survive', () => {
    const survey = filled()
    const revision = survey.revision()
    sql(survey, "UPDATE findspots SET note = 'in the furrow' WHERE id = 1")
    sql(
      survey,
      `UPDATE findspots SET geom = x'47500001E610000001010000009A9999999999D93FCDCCCCCCCC8C4A40' WHERE id = 2`,
    )
    sql(survey, "UPDATE areas SET name = 'West strip' WHERE id = 1")
    expect(survey.revision()).toBeGreaterThan(revision)
    expect(survey.areas()[0]).toMatchObject({ name: 'West strip', polygons: [square(0.35, 53.01)] })
    const [kept, moved] = survey.findspots()
    expect(kept).toMatchObject({ note: 'in the furrow', lon: 0.351, planar: findspot('A').planar })
    expect(moved).toMatchObject({ lon: 0.4, lat: 53.1, planar: null })
    expect(survey.undoable()).toBeNull()
    survey.close()
    const again = openSurveyFile(survey.path, steadySurroundings())
    expect(again.areas()[0]!.name).toBe('West strip')
    expect(again.check()).toEqual([])
    again.close()
  })

  test('adds, moves and removes features, and every index and count follows', () => {
    const survey = filled()
    const ground = survey.groundRevision()
    const drawn = join(dirname(survey.path), 'drawn.geojson')
    writeFileSync(
      drawn,
      JSON.stringify({
        type: 'FeatureCollection',
        features: [
          {
            type: 'Feature',
            properties: { name: 'South strip' },
            geometry: {
              type: 'Polygon',
              coordinates: [
                [
                  [0.4, 53],
                  [0.5, 53],
                  [0.5, 53.1],
                  [0.4, 53],
                ],
              ],
            },
          },
          {
            type: 'Feature',
            properties: { name: 'Two closes' },
            geometry: {
              type: 'MultiPolygon',
              coordinates: [
                [
                  [
                    [1, 53],
                    [1.1, 53],
                    [1.1, 53.1],
                    [1, 53],
                  ],
                ],
                [
                  [
                    [2, 53],
                    [2.1, 53],
                    [2.1, 53.1],
                    [2, 53],
                  ],
                ],
              ],
            },
          },
        ],
      }),
    )
    gdal('ogr2ogr', '-append', '-nlt', 'PROMOTE_TO_MULTI', '-nln', 'areas', survey.path, drawn)
    expect(survey.areas().map(({ name, polygons }) => [name, polygons.length])).toEqual([
      ['North strip', 1],
      ['South strip', 1],
      ['Two closes', 2],
    ])
    const uuids = survey.areas().map((area) => area.uuid)
    for (const uuid of uuids.slice(1))
      expect(uuid).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/)
    expect(survey.groundRevision()).toBeGreaterThan(ground)
    expect(survey.bounds()!.maxX).toBeCloseTo(2.1, 5)
    sql(survey, "DELETE FROM areas WHERE name = 'Two closes'")
    sql(survey, 'UPDATE findspots SET geom = NULL WHERE id = 2')
    expect(survey.bounds()!.maxX).toBeCloseTo(0.5, 5)
    expect(survey.findspots()).toHaveLength(1)
    expect(survey.check()).toEqual([{ code: 'geometry', text: 'The findspot 2 has no geometry.' }])
    survey.changeArea(survey.areas()[1]!.id, {
      name: 'South strip',
      polygons: [square(0.4, 53)],
      given: null,
    })
    expect(survey.undo()).toBe('change of area South strip')
    expect(survey.areas()[1]!.uuid).toBe(uuids[1])
  })

  test('writes the edits of others into the journal, without an action of ours', () => {
    const survey = filled()
    sql(survey, "UPDATE finds SET object = 'strap-end'")
    sql(survey, 'DELETE FROM finds')
    const db = new DatabaseSync(survey.path, { readOnly: true })
    const rows = db
      .prepare('SELECT change, table_name, row_key FROM journal WHERE action_id IS NULL ORDER BY id')
      .all()
    db.close()
    const uuid = expect.stringMatching(/^0000/)
    expect(rows).toEqual([
      { change: 'update', table_name: 'finds', row_key: uuid },
      { change: 'delete', table_name: 'finds', row_key: uuid },
    ])
  })

  test('appends a track of its own, which is a planned line until someone says it was walked', () => {
    const survey = newSurvey()
    const line = join(dirname(survey.path), 'line.geojson')
    writeFileSync(
      line,
      '{"type":"Feature","properties":{"name":"plan"},"geometry":{"type":"LineString","coordinates":[[0,53,9],[1,53,8]]}}',
    )
    gdal('ogr2ogr', '-append', '-nlt', 'PROMOTE_TO_MULTI', '-nln', 'tracks', survey.path, line)
    expect(survey.tracks()).toMatchObject([{ name: 'plan', walked: false, fixes: 2, start: null }])
    expect(survey.counts().fixes).toBe(2)
    sql(survey, 'UPDATE tracks SET walked = 1')
    expect(survey.tracks()[0]!.walked).toBe(true)
    expect(survey.track(1)).toMatchObject({ time: null, hdop: null, extras: [], problems: [] })
    expect(survey.check()).toEqual([])
  })

  test('takes vertices out of a track: what was kept beside single fixes is dropped, and that is said', () => {
    const survey = newSurvey()
    const xy = Float64Array.of(557_800, 337_600, 557_801, 337_601, 557_802, 337_602, 558_000, 338_000)
    survey.addFile(original('walk.gpx'), {
      ...noContent,
      tracks: [{ recorded: track(), given: { epsg: 27700, xy } }],
    })
    const other = newSurvey()
    other.addFile(original('short.gpx'), {
      ...noContent,
      tracks: [
        {
          recorded: {
            ...track(),
            xy: Float64Array.of(0, 53, 1, 53),
            segmentStart: Uint32Array.of(0),
            time: Float64Array.of(5, 6),
            elevation: null,
            hdop: null,
            extras: [],
          },
          given: null,
        },
      ],
    })
    other.close()
    const geom = new DatabaseSync(other.path, { readOnly: true })
    const hex = String(geom.prepare('SELECT hex(geom) AS hex FROM tracks').get()!.hex)
    geom.close()
    sql(survey, `UPDATE tracks SET geom = x'${hex}'`)
    const stored = survey.track(1)
    expect([...stored.xy]).toEqual([0, 53, 1, 53])
    expect(stored).toMatchObject({ hdop: null, extras: [], given: null, elevation: null })
    expect(stored.problems).toEqual([
      { code: 'track-changed', text: expect.stringContaining('North strip, morning from 4 to 2') },
    ])
    expect(survey.tracks()[0]).toMatchObject({ fixes: 2, start: 5, end: 6 })
    expect(survey.check().map((problem) => problem.code)).toEqual(['track-changed'])
  })

  test('reads while we write, and writes while we are open', () => {
    const survey = filled()
    for (let i = 0; i < 3; i++) {
      survey.addFile(original(`${i}.gpx`), sampleContent())
      expect(gdal('ogrinfo', '-ro', '-so', survey.path, 'tracks')).toContain(`Feature Count: ${i + 2}`)
      sql(survey, `UPDATE tracks SET name = 'walk ${i}' WHERE id = ${i + 1}`)
    }
    expect(survey.tracks().map((row) => row.name)).toEqual([
      'walk 0',
      'walk 1',
      'walk 2',
      'North strip, morning',
    ])
    expect(survey.check()).toEqual([])
  })
})
