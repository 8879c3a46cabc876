import { expect, test } from 'vitest'
import { recordedWalk, withFixes } from '../../../test/track/recorded-walk.ts'
import { cleanTrack, defaultCleanSettings, fastStretches, safeSpeed } from './index.ts'

const believed = { ...defaultCleanSettings, errorM: 0 }

test('stretches above the safe speed are found with their length and time; stops and slow ways are none', () => {
  const walk = recordedWalk({ seconds: 200, speedMS: 0.2, noiseM: 0 })
  let ahead = 0
  const hurried = withFixes(walk, ({ y }, i) => {
    if ((i > 50 && i <= 80) || (i > 120 && i <= 130)) ahead += 0.4
    return { y: y + ahead }
  })
  const found = fastStretches(cleanTrack(hurried, believed), safeSpeed(0.25, 1))
  expect(found.map(({ from, to }) => [from, to])).toEqual([
    [50, 80],
    [120, 130],
  ])
  expect(found[0]!.metres).toBeCloseTo(18, 6)
  expect(found[0]!.end - found[0]!.start).toBe(30)
  expect(fastStretches(cleanTrack(walk, believed), 0.25)).toEqual([])
  expect(fastStretches(cleanTrack({ ...hurried, time: null }, believed), 0.25)).toEqual([])
})

test('a break ends a stretch', () => {
  const walk = {
    ...recordedWalk({ seconds: 100, speedMS: 0.5, noiseM: 0 }),
    segmentStart: Uint32Array.of(0, 40),
  }
  const found = fastStretches(cleanTrack(walk, believed), 0.25)
  expect(found.map(({ from, to }) => [from, to])).toEqual([
    [0, 39],
    [40, 100],
  ])
})
