import { expect, test } from 'vitest'
import { markSearchShape, type SoughtKind } from '#contract'
import { changeForm, searchForm, searchOf } from './search-state.ts'

const asked = (kind: SoughtKind) => searchOf({ ...searchForm.get(), kind }, 3, { view: 'as-is' })

test.each([
  ['ring', { minDiameterM: 8, maxDiameterM: 40 }],
  ['pit', { minDiameterM: 1, maxDiameterM: 6 }],
  ['line', { minWidthM: 0.5, maxWidthM: 4, leastLengthM: 20 }],
] as const)(
  'a search for a %s begins with sizes that suit it, in the words of the contract',
  (kind, sizes) => {
    const search = asked(kind)
    expect(search).toEqual({
      kind,
      layerId: 3,
      view: { view: 'as-is' },
      tone: 'dark',
      most: 50,
      ...sizes,
    })
    expect(markSearchShape.parse(search)).toEqual(search)
  },
)

test('what is asked for of one kind leaves the others as they were', () => {
  const before = searchForm.get()
  changeForm({ kind: 'pit', pit: { ...before.pit, minDiameterM: 2, tone: 'light' } })
  expect(asked('pit')).toMatchObject({ minDiameterM: 2, tone: 'light' })
  expect([asked('ring'), asked('line')]).toMatchObject([{ minDiameterM: 8, tone: 'dark' }, { tone: 'dark' }])
})
