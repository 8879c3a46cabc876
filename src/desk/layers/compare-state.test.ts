import { expect, test } from 'vitest'
import { madeUpLayer } from '../../../test/desk/made-up-layer.ts'
import {
  type Compare,
  changeRates,
  compare,
  moveDivider,
  palePictures,
  picturesShown,
  startCompare,
  stepFlicker,
  stillCompared,
  withLayer,
} from './compare-state.ts'
import { type LayerLook, type SeenLayer, seenLayers } from './layer-looks.ts'

const seen = (id: number, look: Partial<LayerLook> = {}, bounds = madeUpLayer().bounds): SeenLayer => {
  const layer = madeUpLayer({ id, bounds })
  const [usual] = seenLayers([layer], { order: [], looks: {} })
  return { layer, look: { ...usual!.look, ...look } }
}
const layers = [seen(4, {}, null), seen(3, { shown: false }), seen(2), seen(1, { opacity: 0.5 })]
const ids = (shown: readonly { readonly layer: { readonly id: number } }[]): number[] =>
  shown.map(({ layer }) => layer.id)

test('the map shows what is placed and switched on', () => {
  expect(ids(picturesShown(layers, null))).toEqual([2, 1])
})

test('while two are compared only they are shown, each on its side of the divider', () => {
  const now: Compare = { kind: 'swipe', ids: [1, 3], divider: 0.3 }
  expect(picturesShown(layers, now).map(({ layer, side }) => [layer.id, side])).toEqual([
    [1, 'left'],
    [3, 'right'],
  ])
})

test('of two that alternate the other is there, but clear', () => {
  const now = { kind: 'flicker', ids: [1, 2], showsSecond: false, changesPerSecond: 0 } as const
  const opacities = (compared: Compare): number[] =>
    picturesShown(layers, compared).map(({ look }) => look.opacity)
  expect(opacities(now)).toEqual([0.5, 0])
  expect(opacities({ ...now, showsSecond: true })).toEqual([0, 1])
})

test('pale pictures keep their order and their own opacity counts', () => {
  const pale = palePictures(picturesShown(layers, null))
  expect(ids(pale)).toEqual([2, 1])
  expect(pale.map(({ look }) => look.opacity)).toEqual([0.4, 0.2])
})

test('side by side the main map shows none', () => {
  expect(picturesShown(layers, { kind: 'beside', ids: [1, 2] })).toEqual([])
})

test('what is looked at comes first, and what lies nowhere is not compared', () => {
  startCompare('beside', layers)
  expect(compare.get()?.ids).toEqual([2, 1, 3])
  startCompare('swipe', layers)
  expect(compare.get()?.ids).toEqual([2, 1])
  compare.set(null)
  startCompare('swipe', layers.slice(0, 2))
  expect(compare.get()).toBeNull()
})

test('the divider stays on the map, and a step shows the other', () => {
  startCompare('swipe', layers)
  moveDivider(1.4)
  expect(compare.get()).toMatchObject({ divider: 1 })
  stepFlicker()
  expect(compare.get()).toMatchObject({ kind: 'swipe' })
  startCompare('flicker', layers)
  stepFlicker()
  expect(compare.get()).toMatchObject({ showsSecond: true })
})

test('a layer chosen twice is exchanged with the other', () => {
  expect(withLayer([1, 2], 0, 2)).toEqual([2, 1])
  expect(withLayer([1, 2], 0, 3)).toEqual([3, 2])
})

test('a comparison ends with its layers', () => {
  const now: Compare = { kind: 'beside', ids: [3, 2, 1] }
  expect(stillCompared(now, layers)).toBe(now)
  expect(stillCompared(now, layers.slice(0, 3))?.ids).toEqual([3, 2])
  expect(stillCompared(now, layers.slice(0, 2))).toBeNull()
})

test('no rate makes more than three flashes a second (WCAG 2.2, 2.3.1): a flash is two changes', () => {
  for (const rate of changeRates) expect(rate / 2).toBeLessThanOrEqual(3)
})
