import { expect, test } from 'vitest'
import { readTable } from '#formats/csv'
import { readWordList } from './read-word-list.ts'

const read = (text: string) =>
  readWordList(readTable(new TextEncoder().encode(text), 'words.csv').rows, 'words.csv')

test('terms have their codes, their broader terms by code or by name, and other names', () => {
  const { terms, faults } = read(
    'Code;Term;Broader;Other names\n10;Dress fitting;;\n11;Buckle;10;clasp | fastener\nhttp://example.org/o/3;Strap end;dress fitting;\n',
  )
  expect(faults).toEqual([])
  expect(terms).toEqual([
    { key: 'own:10', name: 'Dress fitting', otherNames: [], broader: null },
    { key: 'own:11', name: 'Buckle', otherNames: ['clasp', 'fastener'], broader: 'own:10' },
    { key: 'http://example.org/o/3', name: 'Strap end', otherNames: [], broader: 'own:10' },
  ])
})

test('one column of words needs no heading', () => {
  expect(read('buckle\nSpindle whorl\n').terms.map(({ key, name }) => [key, name])).toEqual([
    ['own:buckle', 'buckle'],
    ['own:spindle whorl', 'Spindle whorl'],
  ])
})

test('what cannot be read is told by its line, and the rest counts', () => {
  const { terms, faults } = read('term,code,broader\nbuckle,1,\n,2,\nbuckle loop,1,\npin,3,brooches\n')
  expect(terms.map(({ name }) => name)).toEqual(['buckle', 'pin'])
  expect(faults.map(({ line, text }) => [line, text])).toEqual([
    [3, 'The code “2” has no term. The row was left out.'],
    [4, '“buckle loop” stands twice, or its code does. The row was left out.'],
    [5, '“brooches” is not in the list, so “pin” lies under nothing.'],
  ])
})

test('a table without a column of terms is refused with what to do', () => {
  expect(() => read('a,b\n1,2\n')).toThrow('has no column headed “term”')
  expect(() => read('')).toThrow('holds no words')
})
