import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import sharp from 'sharp'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type PhotographMatchWish, type PhotographMoment, photographMatchesShape } from '#contract'
import { openSurveyFile, type SurveyFile } from '#store'
import { put, straightWalk } from '../../../test/service/small-field.ts'
import { importFiles } from '../import-file.ts'
import { surroundings } from '../surroundings.ts'
import { matchPhotographs, photographMoment } from './match-photographs.ts'

/** One walk of a morning, a metre in two seconds, and what was found on it; the waypoint has no find. */
const home = mkdtempSync(path.join(tmpdir(), 'lynchet-service-'))
let survey: SurveyFile
beforeAll(async () => {
  const file = path.join(home, 'nst.gpkg')
  const finds = [
    'easting,northing,object,time',
    '558010,347020,buckle,2026-09-12T09:00:40Z',
    '558010,347080,thimble,2026-09-12T09:02:40Z',
    '',
  ]
  const waypoint = '<wpt lat="53.000" lon="0.360"><time>2026-09-13T09:00:00Z</time><name>A7</name></wpt>'
  await importFiles(file, [
    put(home, 'walk.csv', straightWalk(558_010)),
    put(home, 'finds.csv', finds.join('\n')),
    put(home, 'spot.gpx', `<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">${waypoint}</gpx>`),
  ])
  survey = openSurveyFile(file, surroundings)
})
afterAll(() => {
  survey?.close()
  rmSync(home, { recursive: true, force: true })
})

const moment = (over: Partial<PhotographMoment>): PhotographMoment => ({
  name: 'a.jpg',
  sha256: null,
  takenLocal: null,
  zone: null,
  time: null,
  place: null,
  camera: null,
  faults: [],
  ...over,
})
const asked = (photographs: PhotographMoment[], over: Partial<PhotographMatchWish> = {}) => ({
  photographs,
  zoneS: null,
  clockS: 0,
  withinM: 15,
  withinS: 600,
  ...over,
})

test('a camera in summer time that tells no zone: the zone is found from its photographs, each goes to its find', () => {
  const made = matchPhotographs(
    survey,
    asked([
      moment({ takenLocal: '2026-09-12T10:00:45' }),
      moment({ takenLocal: '2026-09-12T10:02:41' }),
      moment({ takenLocal: '2026-09-14T10:02:41' }),
      moment({}),
    ]),
  )
  expect(photographMatchesShape.parse(made)).toEqual(made)
  expect(made.photographs.map(({ state, goals }) => [state, goals[0]?.label ?? null])).toEqual([
    ['matched', expect.stringContaining('buckle')],
    ['matched', expect.stringContaining('thimble')],
    ['none', null],
    ['none', null],
  ])
  expect(made.photographs[0]).toMatchObject({ at: '2026-09-12T09:00:45.000Z', zoneS: 3600 })
  expect(made.photographs[0]!.offM).toBeCloseTo(2.5, 1)
  expect(made.photographs[0]!.offS).toBeCloseTo(5, 6)
  expect(made.notes.join()).toContain('UTC+01:00 was taken, in which 2 of 3')
})

test('a zone that is set, and a clock that was wrong, are counted', () => {
  const late = [moment({ takenLocal: '2026-09-12T11:17:45' })]
  expect(matchPhotographs(survey, asked(late)).photographs[0]!.state).toBe('none')
  const set = matchPhotographs(survey, asked(late, { zoneS: 7200, clockS: -1020 }))
  expect(set.photographs[0]).toMatchObject({ state: 'matched', zoneS: 7200 })
  expect(set.notes).toEqual([])
})

test('the zone told, else that between the clocks of camera and satellites, goes before the one that is set', () => {
  const time = Date.UTC(2026, 8, 12, 9, 0, 10) / 1000
  const both = matchPhotographs(
    survey,
    asked(
      [
        moment({ takenLocal: '2026-09-12T12:00:45', zone: '+03:00', time: time + 35 }),
        // The satellites' clock was last read half a minute before.
        moment({ takenLocal: '2026-09-12T04:00:45', time }),
      ],
      { zoneS: 0 },
    ),
  )
  expect(both.photographs.map(({ state, zoneS, offS }) => [state, zoneS, offS])).toEqual([
    ['matched', 10_800, 5],
    ['matched', -18_000, 5],
  ])
})

test('by its own place: the distance is told; a findspot without a find offers a new one', () => {
  const place = { lat: 53.000_05, lon: 0.36, accuracyM: 4 }
  const [near, late] = matchPhotographs(
    survey,
    asked([moment({ place }), moment({ place, takenLocal: '2026-09-13T12:00:00', zone: '+01:00' })]),
  ).photographs
  expect(near).toMatchObject({
    state: 'matched',
    goals: [{ find: null, label: 'new find at A7' }],
  })
  expect(near!.offM).toBeCloseTo(5.56, 1)
  expect(late).toMatchObject({ state: 'choose', goals: [{ label: 'new find at A7' }], offS: 7200 })
})

test('a picture that a find has already says so; the beginning of a file is enough to be read', async () => {
  const taken = { IFD2: { DateTimeOriginal: '2026:09:12 10:00:45', OffsetTimeOriginal: '+01:00' } }
  const bytes = await sharp({
    create: {
      width: 900,
      height: 700,
      channels: 3,
      noise: { type: 'gaussian', mean: 128, sigma: 30 },
      background: '#777',
    },
  })
    .withExif(taken)
    .jpeg()
    .toBuffer()
  const looked = await photographMoment('a.jpg', put(home, 'a.jpg', bytes.subarray(0, 20_000)))
  expect(looked).toMatchObject({ takenLocal: '2026-09-12T10:00:45', zone: '+01:00', faults: [] })
  const sha256 = 'ab'.repeat(32)
  const [find] = survey.catalogue.all()
  const facts = { role: 'other', note: null, mmPerPixel: null, scaleLine: null, name: 'a.jpg', path: 'a.jpg' }
  const more = { relativePath: null, size: 1, width: 1, height: 1, orientation: 1, takenAt: null, exif: null }
  survey.catalogue.addPhotograph(find!.id, { ...facts, ...more, sha256, thumbnail: new Uint8Array(1) }, null)
  expect(matchPhotographs(survey, asked([{ ...looked, sha256 }])).photographs[0]).toMatchObject({
    state: 'attached',
    reason: `It is a photograph of ${find!.record.number} already.`,
  })
  await expect(photographMoment('b.txt', put(home, 'b.txt', 'words'))).rejects.toMatchObject({
    code: 'unknown-kind',
  })
})
