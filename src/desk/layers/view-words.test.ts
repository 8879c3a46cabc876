import { expect, test } from 'vitest'
import { imageViews, terrainViews } from '#contract'
import { madeUpLayer } from '../../../test/desk/made-up-layer.ts'
import { limitsOf, numberOf, plainView, viewFor, viewWords } from './view-words.ts'

const terrain = madeUpLayer({ kind: 'terrain', views: [...terrainViews], pixelM: 0.5, bands: 1 })

test('every view of the contract has its words, and no two have one name', () => {
  const names = [...terrainViews, ...imageViews].map((view) => viewWords[view].name)
  expect(new Set(names).size).toBe(names.length)
  expect(Object.keys(viewWords).length).toBe(names.length)
})

test('only the numbers that a view goes by are asked for', () => {
  expect(plainView({ view: 'slope', azimuth: 90, cutPercent: 1 })).toEqual({ view: 'slope', cutPercent: 1 })
  expect(plainView({ view: 'as-is', radiusM: 5 })).toEqual({ view: 'as-is' })
})

test('a view that the layer does not have gives way to its usual one', () => {
  expect(viewFor(terrain, { view: 'ndvi' })).toEqual({ view: 'hillshade' })
  expect(viewFor(terrain, { view: 'slope', cutPercent: 5 })).toEqual({ view: 'slope', cutPercent: 5 })
  expect(viewFor(terrain, undefined)).toEqual({ view: 'hillshade' })
})

test('the radius reaches from one cell to 400, and bands are as many as there are', () => {
  expect(limitsOf(terrain, 'radiusM')).toEqual([0.5, 200])
  expect(limitsOf(madeUpLayer(), 'number')).toEqual([1, 4])
})

test('the usual radius of a terrain is known; that of an image the server chooses', () => {
  expect(numberOf(terrain, { view: 'sky-view' }, 'radiusM')).toBe(10)
  expect(numberOf(madeUpLayer(), { view: 'equalised' }, 'radiusM')).toBeNull()
  expect(numberOf(terrain, { view: 'hillshade', azimuth: 20 }, 'azimuth')).toBe(20)
})
