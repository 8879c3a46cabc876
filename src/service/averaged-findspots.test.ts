import path from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { planarGrid } from '#core/geodesy'
import type { RecordedFindspot } from '#core/record'
import { openSurveyFile } from '#store'
import { ostn15 } from '#work'
import { put, testFolder } from '../../test/service/small-field.ts'
import { averagedFindspots } from './averaged-findspots.ts'
import { importFiles } from './import-file.ts'
import { surroundings } from './surroundings.ts'

const noon = Date.UTC(2026, 8, 12, 12) / 1000
const utm = planarGrid(32_631, ostn15())
/** A waypoint so many metres east of a place in the North Sea, so many seconds after noon. */
function waypoint(name: string, east: number, seconds: number | null, over: Partial<RecordedFindspot> = {}) {
  const [x, y] = [500_000 + east, 5_872_000]
  const time = seconds === null ? null : noon + seconds
  const plain = { accuracyM: null, elevation: null, note: null, find: null, attributes: {} }
  return { epsg: 32_631, name, x, y, time, ...plain, ...over }
}

test('waypoints of one name at one spot are one findspot at their mean, with its error and how it was come by', () => {
  const taken = [
    waypoint('A7', 0, 0, { note: 'buckle' }),
    waypoint('A7', 3, 60),
    waypoint('A8', 40, 90),
    waypoint('A7', 6, 120),
  ]
  const { findspots, faults } = averagedFindspots(taken, utm)
  expect(findspots.map(({ name, x }) => [name, x])).toEqual([
    ['A7', 500_003],
    ['A8', 500_040],
  ])
  const [mean, single] = findspots
  expect(mean!.note).toBe('buckle\nMean of 3 fixes, which spread by 2.1 m along an axis.')
  // Nine tenths of the variance of 2 m stay; the spread along one axis is the root of 18 / 4.
  expect(mean!.accuracyM! / Math.sqrt(-2 * Math.log(1 - 0.6827))).toBeCloseTo(Math.sqrt(3.6 + 4.5 / 3), 9)
  expect(single).toEqual(taken[2])
  expect(faults).toHaveLength(1)
  expect(faults[0]!.text).toContain('3 waypoints named "A7"')
})

test('what may be two findspots stays two', () => {
  for (const pair of [
    [waypoint('coin', 0, 0), waypoint('coin', 1, 30)],
    [waypoint('A7', 0, 0), waypoint('A7', 16, 30)],
    [waypoint('A7', 0, 0), waypoint('A7', 1, 700)],
    [waypoint('A7', 0, 0), waypoint('A7', 1, null)],
  ])
    expect(averagedFindspots(pair, utm)).toEqual({ findspots: pair, faults: [] })
  const both = [waypoint('A7', 0, 0), waypoint('A7', 1, 5)]
  expect(averagedFindspots(both, null).findspots).toEqual(both)
})

test('a receiver that says how many fixes it averaged is believed as many; an accuracy that is told stays', () => {
  const attributes = { 'extensions/WaypointExtension/Samples': '60', hdop: '0.9' }
  const [found] = averagedFindspots([waypoint('x', 0, 0, { attributes })], utm).findspots
  expect(found!.accuracyM!).toBeCloseTo(1.515 * 1.8 * Math.sqrt(0.9 + 0.1 / 60), 2)
  expect(found!.note).toBe("The receiver's mean of 60 fixes.")
  const told = waypoint('x', 0, 0, { attributes, accuracyM: 0.4 })
  expect(averagedFindspots([told], utm).findspots).toEqual([told])
})

test('in a GPX file brought in, in degrees: one findspot, and the reply says so', async () => {
  const home = testFolder()
  const file = path.join(home, 'nst.gpkg')
  const wpt = (lon: number, minute: number): string =>
    `<wpt lat="53.0000000" lon="${lon}"><time>2026-09-12T09:0${minute}:00Z</time><name>NST-2026-004</name></wpt>`
  const gpx = `<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">${wpt(0.36, 1)}${wpt(0.36004, 2)}</gpx>`
  const { files } = await importFiles(file, [put(home, 'spots.gpx', gpx)])
  expect(files[0]).toMatchObject({ added: { findspots: 1 }, faults: [{ code: 'assumed' }] })
  const survey = openSurveyFile(file, surroundings)
  onTestFinished(() => survey.close())
  const [spot] = survey.findspots()
  expect(spot!.lon).toBeCloseTo(0.36002, 7)
  expect(spot!.accuracyM).toBeGreaterThan(2.8)
  expect(spot!.note).toContain('Mean of 2 fixes')
})
