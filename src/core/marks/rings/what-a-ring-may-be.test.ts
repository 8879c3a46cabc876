import { expect, test } from 'vitest'
import { whatARingMayBe } from './what-a-ring-may-be.ts'

const names = (diameterM: number) => {
  const { possible, ordinary } = whatARingMayBe(diameterM, null)
  return [possible.map(({ what }) => what), ordinary.map(({ what }) => what)]
}

test('the barrow ditch dug at Saltwood, 26.5 m across, falls among the barrows', () => {
  expect(names(26.5)[0]).toEqual(['ploughed-out round barrow', 'mound of a windmill'])
})

test('whatever archaeology a size allows, ordinary things are named beside it', () => {
  for (let diameterM = 4; diameterM <= 120; diameterM += 0.5) {
    const [possible, ordinary] = names(diameterM)
    expect([possible!.length > 0, ordinary!.length > 0], `${diameterM} m`).toEqual([true, true])
  }
})

test('outside all ranges nothing is guessed, and the questions stay', () => {
  expect([names(3.9), names(121)]).toEqual([
    [[], []],
    [[], []],
  ])
  expect(whatARingMayBe(500, 1).questions).toHaveLength(3)
})

test('a gap raises its own question', () => {
  expect(whatARingMayBe(20, 0.6).questions.at(-1)).toContain('gap')
  expect(whatARingMayBe(20, 0.95).questions).toHaveLength(3)
})
