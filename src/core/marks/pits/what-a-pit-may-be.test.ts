import { expect, test } from 'vitest'
import { whatAPitMayBe } from './what-a-pit-may-be.ts'

test('whatever archaeology a size allows, ordinary things are named beside it, and questions always', () => {
  for (let diameterM = 0.5; diameterM <= 20; diameterM += 0.25) {
    const { possible, ordinary, questions } = whatAPitMayBe(diameterM)
    expect([possible.length > 0, ordinary.length > 1, questions.length], `${diameterM} m`).toEqual([
      true,
      true,
      3,
    ])
  }
})

test('where a crater may be, it says to leave it alone', () => {
  const told = (diameterM: number) =>
    whatAPitMayBe(diameterM).ordinary.some(({ what }) => what.includes('leave it alone'))
  expect([told(2.9), told(3), told(15), told(15.1)]).toEqual([false, true, true, false])
})

test('outside all ranges nothing is guessed', () => {
  expect(whatAPitMayBe(25)).toMatchObject({ possible: [], ordinary: [] })
})
