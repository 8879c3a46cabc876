import fc from 'fast-check'
import { expect, test } from 'vitest'
import { newSurveyShape } from '#contract'
import { codeFault, codeFrom } from './survey-code.ts'

test.each([
  ['Long Meadow Farm', 'LMF'],
  ['Ninestile Farm', 'NIN'],
  ['Château', 'CHA'],
  ['9 Acre', 'AC'],
  ['X', ''],
  ['', ''],
])('%s proposes %s', (title, code) => expect(codeFrom(title)).toBe(code))

test('a proposed code is always one that the server takes', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme', minLength: 1, maxLength: 60 }), (title) => {
      const code = codeFrom(title)
      return code === '' || newSurveyShape.safeParse({ code, title: 'Field' }).success
    }),
  )
})

test('the sentence comes for exactly the codes that the server refuses', () => {
  fc.assert(
    fc.property(fc.stringMatching(/^[A-Za-z0-9 ]{0,10}$/), (code) => {
      expect(codeFault(code) === null).toBe(newSurveyShape.safeParse({ code, title: 'Field' }).success)
    }),
  )
})
