import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { broadPeriods, type DateReading, dateParser, type Period, spanText, yearIndex } from './index.ts'

const read = dateParser(broadPeriods)
const spanOf = (text: string): readonly [number | null, number | null] => {
  const answer = read(text)
  if ('refused' in answer) throw new Error(answer.refused)
  return [answer.from, answer.to]
}

test.each<[string, number | null, number | null]>([
  ['1200 BC', -1200, -1200],
  ['1200BC', -1200, -1200],
  ['1200 B.C.', -1200, -1200],
  ['12 BCE', -12, -12],
  ['-1200', -1200, -1200],
  ['10,000 BC', -10_000, -10_000],
  ['AD43', 43, 43],
  ['A.D. 43', 43, 43],
  ['43 CE', 43, 43],
  ['year 1215', 1215, 1215],
  ['AD 43-410', 43, 410],
  ['AD 43–410', 43, 410],
  ['1200-800 BC', -1200, -800],
  ['100 BC - AD 50', -100, 50],
  ['1 BC to AD 1', -1, 1],
  ['between 1200 and 1300', 1200, 1300],
  ['1650-80', 1650, 1680],
  ['1914-18', 1914, 1918],
  ['1880s', 1880, 1889],
  ['C4', 301, 400],
  ['4th century', 301, 400],
  ['4th C.', 301, 400],
  ['twelfth century', 1101, 1200],
  ['C19th', 1801, 1900],
  ['16th-17th century', 1501, 1700],
  ['C16-C17', 1501, 1700],
  ['2nd century BC', -200, -101],
  ['1st century BC', -100, -1],
  ['2nd-1st century BC', -200, -1],
  ['1st century BC - 1st century AD', -100, 100],
  ['1st millennium BC', -1000, -1],
  ['second half of the 12th century', 1151, 1200],
  ['first quarter of the 4th century', 301, 325],
  ['early 1st century BC', -100, -69],
  ['late 2nd to early 3rd century', 167, 232],
  ['mid-late 1st century AD', 33, 100],
  ['c. 1650', 1625, 1675],
  ['circa 2000 BC', -2100, -1900],
  ['c1650', 1625, 1675],
  ['Iron Age', -800, 42],
  ['Romano-British', 43, 409],
  ['post medieval', 1540, 1900],
  ['Post-Medieval', 1540, 1900],
  ['Iron Age to Roman', -800, 409],
  ['Iron Age/Roman', -800, 409],
  ['Roman or medieval', 43, 1539],
  ['Roman, 2nd century', 101, 200],
  ['Roman (AD 150-200)', 150, 200],
  ['2nd century (Roman)', 101, 200],
  ['4000 BC, Neolithic', -4000, -4000],
  ['before 800 BC', null, -801],
  ['after AD 43', 44, null],
  ['before AD 1', null, -1],
  ['until 1700', null, 1700],
  ['1200 BC?', -1200, -1200],
])('%s is %s to %s', (text, from, to) => expect(spanOf(text)).toEqual([from, to]))

// The list of periods of Historic England (8 April 2026) states the years of every third of a century from the 1st on.
const { terms } = JSON.parse(
  readFileSync(new URL('../../../data/vocabularies/periods.json', import.meta.url), 'utf8'),
) as { terms: readonly Period[] }
const thirds = terms.filter(({ name }) => /^(Early|Mid|Late)? ?\d+\w\w Century$/.test(name))

test('centuries and their thirds are those of the list of Historic England', () => {
  // The 11th century is parted at 1066, not after 1066 years and two thirds.
  const parted = thirds.filter(({ name }) => !name.endsWith('11th Century'))
  expect(parted).toHaveLength(80)
  expect(parted.map(({ name }) => [name, ...spanOf(name)])).toEqual(
    parted.map(({ name, from, to }) => [name, from, to]),
  )
})

test('a list of periods is read by each of its names', () => {
  const parse = dateParser(terms)
  const wrong = terms.filter(({ name, from, to }) => {
    const answer = parse(name) as DateReading
    return answer.from !== from || answer.to !== to
  })
  expect(wrong).toEqual([])
  expect(parse('romano-british')).toMatchObject({ period: { key: 'he:RO' }, from: 43, to: 410 })
})

test.each<[string, string]>([
  ['0', 'There is no year 0'],
  ['AD 0', 'There is no year 0'],
  ['0-100', 'There is no year 0'],
  ['50 BC to 0', 'There is no year 0'],
  ['1200-800', 'runs backwards'],
  ['50 BC to 50', 'may be BC or AD'],
  ['1700s', 'ten years or a hundred'],
  ['c. 2', '“2nd century”'],
  ['AD 2500', 'future'],
  ['0th century', 'no century 0'],
  ['3000 BP', 'calibrating'],
  ['2450 cal BP', 'calibrating'],
  ['Roman, 12th century', 'two dates'],
  ['Roman (1700s)', 'ten years or a hundred'],
  ['unknown', 'no date that is understood'],
  ['BC', 'no date that is understood'],
  ['', 'no date in it'],
  ['?', 'no date in it'],
  ['1'.repeat(500), 'shorter than 200'],
])('%j is refused: %s', (text, part) => {
  expect(read(text)).toEqual({ refused: expect.stringContaining(part) })
})

test('what was not written is told', () => {
  expect(read('1215')).toMatchObject({ assumed: ['The year was taken to be AD.'] })
  expect(read('AD 1215')).toMatchObject({ assumed: [] })
  expect(read('c. AD 1650')).toMatchObject({ assumed: ['About was taken as 25 years to both sides.'] })
  expect(read('late Iron Age')).toMatchObject({
    assumed: ['late was taken as a share of the whole period.'],
  })
})

test.each([
  ['Roman?', 'possible'],
  ['possibly Roman', 'possible'],
  ['probably medieval', 'probable'],
  ['medieval (probable)', 'probable'],
  ['certainly AD 43', 'certain'],
  ['Roman', null],
])('%s is %s', (text, certainty) => expect(read(text)).toMatchObject({ certainty }))

test('a span written out is read back', () => {
  const anyYear = fc.integer({ min: -9999, max: 2100 }).filter((year) => year !== 0)
  fc.assert(
    fc.property(anyYear, anyYear, (a, b) => {
      const span = { from: Math.min(a, b), to: Math.max(a, b) }
      expect(spanOf(spanText(span))).toEqual([span.from, span.to])
    }),
  )
})

test('any text is answered, with a forward span of true years or a sentence', () => {
  const scrap = fc.constantFrom(
    'c.',
    'AD',
    'BC',
    ' ',
    '-',
    '1',
    '20',
    '4th',
    'century',
    'late',
    '?',
    'Roman',
    'to',
    '/',
    '0',
  )
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string(),
        fc.array(scrap).map((parts) => parts.join(' ')),
      ),
      (text) => {
        const answer = read(text)
        if ('refused' in answer) expect(answer.refused).toMatch(/[.]$/)
        else if (answer.from !== null && answer.to !== null) {
          expect(yearIndex(answer.from)).toBeLessThanOrEqual(yearIndex(answer.to))
        }
      },
    ),
  )
})
