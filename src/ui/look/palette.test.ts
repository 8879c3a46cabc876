import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { contrastRatio } from './contrast.ts'
import { type ColourRole, colourRoles, type Look, looks, shapePairs, textPairs } from './roles.ts'

const css = readFileSync(new URL('./palette.css', import.meta.url), 'utf8')

function coloursOf(look: Look): Map<string, string> {
  const block = css.split(`:root[data-look="${look}"] {`)[1]?.split('}')[0] ?? ''
  return new Map([...block.matchAll(/--([a-z-]+): (#[0-9a-f]{6});/g)].map((m) => [m[1]!, m[2]!]))
}

function failing(look: Look, pairs: readonly (readonly [ColourRole, ColourRole])[], least: number): string[] {
  const colours = coloursOf(look)
  return pairs
    .map(([a, b]) => ({ a, b, ratio: contrastRatio(colours.get(a)!, colours.get(b)!) }))
    .filter(({ ratio }) => ratio < least)
    .map(({ a, b, ratio }) => `${a} on ${b}: ${ratio.toFixed(2)}`)
}

// Expected: worked values published with WCAG 2.x (black on white 21; #767676 on white 4.54).
test('the contrast formula gives the published values', () => {
  expect(contrastRatio('#000000', '#ffffff')).toBeCloseTo(21, 6)
  expect(contrastRatio('#767676', '#ffffff')).toBeCloseTo(4.54, 2)
  expect(contrastRatio('#ffffff', '#767676')).toBe(contrastRatio('#767676', '#ffffff'))
})

test.each(looks)('%s defines every role and no other', (look) => {
  expect([...coloursOf(look).keys()].sort()).toEqual([...colourRoles].sort())
})

test.each(looks)('%s: text stands out from its ground by 4.5 to 1', (look) => {
  expect(failing(look, textPairs, 4.5)).toEqual([])
})

test.each(looks)('%s: borders, focus and map symbols stand out by 3 to 1', (look) => {
  expect(failing(look, shapePairs, 3)).toEqual([])
})

test('high contrast holds all text to 7 to 1', () => {
  expect(failing('high-contrast', textPairs, 7)).toEqual([])
})
