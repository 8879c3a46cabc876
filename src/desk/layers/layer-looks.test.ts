import fc from 'fast-check'
import { expect, test } from 'vitest'
import { madeUpLayer } from '../../../test/desk/made-up-layer.ts'
import { inOrder, looksFrom, movedTo, seenLayers } from './layer-looks.ts'

test('what was kept is read back, and what is not understood is as if it had not been kept', () => {
  const view = { view: 'band', number: 2 }
  const kept = { order: [2, 1], looks: { 1: { shown: false, opacity: 0.4, blend: 'screen', view } } }
  expect(looksFrom(JSON.stringify(kept))).toEqual(kept)
  const odd = {
    order: [1, 'x'],
    looks: { 1: { shown: 'yes', opacity: 7, blend: 'burn', view: { view: 'x' } } },
  }
  expect(looksFrom(JSON.stringify(odd))).toEqual({ order: [1], looks: { 1: {} } })
  for (const text of [null, '', '{', '[]', '3', 'null'])
    expect(looksFrom(text)).toEqual({ order: [], looks: {} })
})

test('any text at all gives looks that can be used', () => {
  fc.assert(
    fc.property(fc.json(), (text) => {
      const { look } = seenLayers([madeUpLayer()], looksFrom(text))[0]!
      expect(look.opacity).toBeGreaterThanOrEqual(0)
      expect(look.opacity).toBeLessThanOrEqual(1)
    }),
  )
})

test('a layer that was never moved lies uppermost, the newest first', () => {
  const layers = [1, 2, 3, 4].map((id) => madeUpLayer({ id }))
  expect(inOrder(layers, { order: [2, 1, 9], looks: {} }).map(({ id }) => id)).toEqual([4, 3, 2, 1])
  expect(inOrder(layers, { order: [1, 2, 3, 4], looks: {} }).map(({ id }) => id)).toEqual([1, 2, 3, 4])
})

test('a move keeps all the others in their order', () => {
  const anyIds = fc.uniqueArray(fc.nat(50), { minLength: 1, maxLength: 12 })
  fc.assert(
    fc.property(anyIds, fc.nat(), fc.integer({ min: -2, max: 14 }), (ids, pick, place) => {
      const id = ids[pick % ids.length]!
      const moved = movedTo(ids, id, place)
      expect(moved.filter((one) => one !== id)).toEqual(ids.filter((one) => one !== id))
      expect(moved.indexOf(id)).toBe(Math.max(0, Math.min(ids.length - 1, place)))
    }),
  )
})

test('until a switch is touched, what lies below another is not shown', () => {
  const beside = madeUpLayer({ id: 1, bounds: [561_000, 349_700, 561_400, 350_000] })
  const layers = [madeUpLayer({ id: 2 }), madeUpLayer({ id: 3 }), beside]
  const shown = (looks: Record<string, { shown: boolean }>): number[] =>
    seenLayers(layers, { order: [], looks })
      .filter(({ look }) => look.shown)
      .map(({ layer }) => layer.id)
  expect(shown({})).toEqual([3, 1])
  expect(shown({ 3: { shown: false } })).toEqual([2, 1])
  expect(shown({ 2: { shown: true } })).toEqual([3, 2, 1])
})
