import { describe, expect, test } from 'vitest'
import { openSurveyFile } from '#store'
import { otherProgram } from './other-program.ts'
import { newSurvey, original, sampleContent, square, steadySurroundings } from './sample.ts'

/** The problems that `check` finds after another program has run a statement. */
function problemsAfter(statement: string): string[] {
  const survey = newSurvey()
  survey.addFile(original('walk.gpx'), sampleContent())
  survey.saveCover({
    id: 'c',
    settings: 0,
    figures: 0,
    frame: 0,
    passes: Uint8Array.of(1),
    groundRevision: 0,
    gaps: [{ areaM2: 1, polygon: square(0, 53) }],
  })
  const db = otherProgram(survey.path)
  db.exec(statement)
  db.close()
  return survey.check().map(({ code, text }) => `${code}: ${text}`)
}

describe('check finds', () => {
  test('nothing in a survey that is well', () => {
    expect(problemsAfter('SELECT 1')).toEqual([])
  })

  test.each([
    [
      "UPDATE originals SET bytes = x'00'",
      'original: The kept file walk.gpx is no longer what was imported.',
    ],
    ['DELETE FROM rtree_tracks_geom', 'index: The track 1 is not where the index of its layer says.'],
    ['UPDATE rtree_areas_geom SET minx = 0.2', 'index: The area 1 is not where the index of its layer says.'],
    [
      'INSERT INTO rtree_gaps_geom VALUES (99, 0, 1, 0, 1)',
      'index: The index of gaps lists a row 99 that is not there.',
    ],
    [
      'DELETE FROM findspots WHERE id = 1',
      'reference: Row 1 of finds points to a row of findspots that is not there.',
    ],
    [
      'UPDATE finds SET findspot_id = 77',
      'reference: Row 1 of finds points to a row of findspots that is not there.',
    ],
    ['UPDATE findspots SET geom = NULL WHERE id = 2', 'geometry: The findspot 2 has no geometry.'],
    ["UPDATE finds SET number = '12'", 'number: The find number 12 is not of the form CODE-YEAR-NNN.'],
    ['UPDATE finds SET number = NULL', 'number: The find 1 has no number.'],
    ['UPDATE areas SET uuid = NULL', 'uuid: Row 1 of areas has no UUID.'],
    ["UPDATE areas SET attributes = '{'", 'json: The column attributes of row 1 of areas is not JSON.'],
    ["UPDATE finds SET materials = '{'", 'json: The column materials of row 1 of finds is not JSON.'],
    [
      "INSERT INTO joins (uuid, first_uuid, second_uuid, state) SELECT 'j', uuid, 'gone', 'accepted' FROM finds LIMIT 1",
      'reference: Row 1 of joins names a row of finds by second_uuid that is not there.',
    ],
    ["UPDATE tracks SET hdop = x'0000000000000000'", /^track-changed: .* of North strip, morning /],
    [
      "DELETE FROM gpkg_geometry_columns WHERE table_name = 'gaps'",
      'metadata: The layer gaps is missing from gpkg_geometry_columns.',
    ],
    ['PRAGMA user_version = 3', 'metadata: The GeoPackage version reads 3.'],
    [
      'DROP TRIGGER rtree_areas_geom_insert; DROP TRIGGER rtree_areas_geom_update6',
      'metadata: The layer areas has lost triggers that keep its index.',
    ],
  ])('%s', (statement, problem) => {
    const problems = problemsAfter(statement)
    expect(problems).toHaveLength(1)
    expect(problems[0]).toMatch(problem)
  })

  test('a geometry that is no geometry, of the wrong kind, or off the globe', () => {
    const header = "x'47500001E6100000"
    const cases = [
      ["x'00'", 'does not start as GeoPackage says it must'],
      [`${header}0105000000'`, 'cannot be read'],
      [`${header}010200000000000000'`, 'is not a polygon'],
      [`${header}01060000000000000000'`, 'has 1 bytes too many after its geometry'],
      ["x'475000010000000001060000000000000000'", 'says that it lies in reference system 0, not 4326'],
    ] as const
    for (const [geom, words] of cases) {
      const problems = problemsAfter(
        `DROP TRIGGER rtree_areas_geom_update6; DELETE FROM rtree_areas_geom; UPDATE areas SET geom = ${geom}`,
      )
      expect(problems.join(), geom).toContain(words)
    }
  })

  test('what it can even where a part of the file cannot be read', () => {
    const survey = newSurvey()
    survey.addFile(original('walk.gpx'), sampleContent())
    const db = otherProgram(survey.path)
    db.exec('DROP TABLE gpkg_geometry_columns; UPDATE finds SET number = NULL')
    db.close()
    const again = openSurveyFile(survey.path, steadySurroundings())
    expect(again.check().map((problem) => problem.code)).toEqual(['unreadable', 'number'])
    again.close()
  })
})
