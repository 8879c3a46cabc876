import { expect, test } from 'vitest'
import { boundsOfPairs, laneName, walkedLines } from './lane-lines.ts'

const lane = { walker: 1, number: 1, lengthM: 10, walkedM: 6, xy: [0, 0, 0, 10] }

test('a lane walked in part is drawn whole, and its missed part over it; a skipped one only as missed', () => {
  const part = { ...lane, state: 'part' as const, missed: [{ fromM: 6, toM: 10, xy: [0, 6, 0, 10] }] }
  const skipped = { ...lane, state: 'skipped' as const, missed: [{ fromM: 0, toM: 10, xy: lane.xy }] }
  const plan = {
    plan: 1,
    planName: 'a',
    toleranceM: 1,
    errorM: 1,
    spacingM: 2,
    plannedM: 20,
    walkedM: 6,
    offM: null,
  }
  const lines = walkedLines({ ...plan, lanes: [part, skipped], strayings: [], notes: [] })
  expect(lines).toEqual({ walked: [lane.xy], missed: [[0, 6, 0, 10], lane.xy], strayed: [] })
})

test('bounds and names', () => {
  expect(boundsOfPairs([3, 9, 1, 4, 2, 12])).toEqual([1, 4, 3, 12])
  expect([laneName(lane, false), laneName(lane, true)]).toEqual(['Lane 1', 'Lane 1 of walker 1'])
})
