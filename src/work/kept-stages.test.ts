import { expect, test } from 'vitest'
import { Stages, stageKey } from './kept-stages.ts'

test('a key tells contents apart, whatever holds them', () => {
  const one = stageKey({ a: 1, xy: Float64Array.of(1, 2) }, [null, 'x'])
  expect(stageKey({ a: 1, xy: Float64Array.of(1, 2) }, [null, 'x'])).toBe(one)
  const shared = new Float64Array(new SharedArrayBuffer(16))
  shared.set([1, 2])
  expect(stageKey({ a: 1, xy: shared }, [null, 'x'])).toBe(one)
  const others = [
    stageKey({ a: '1', xy: Float64Array.of(1, 2) }, [null, 'x']),
    stageKey({ a: 1, xy: Float64Array.of(1, 2.000001) }, [null, 'x']),
    stageKey({ a: 1, xy: Float64Array.of(1, 2) }, [null], 'x'),
    stageKey({ a: 1, xy: Float64Array.of(1, 2) }, [undefined, 'x']),
  ]
  expect(new Set([one, ...others]).size).toBe(5)
})

test('a stage is done again only under another key, and one no longer asked for is let go', async () => {
  const first = new Stages(null)
  expect(await first.take('a', 'k', () => 1)).toBe(1)
  await first.take('b', 'k', async () => 2)
  const second = new Stages(first.kept)
  expect(await second.take('a', 'k', () => 9)).toBe(1)
  expect(await second.take('a', 'other', () => 9)).toBe(9)
  expect(second.done).toEqual(['a'])
  expect(Object.keys(second.kept)).toEqual(['a'])
})
