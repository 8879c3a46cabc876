import { execFileSync, spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import sharp from 'sharp'
import { afterAll, expect, test } from 'vitest'
import { type FindRecord, numberedFind } from '#core/finds'
import { factsOf, headOf } from './catalogue-facts.ts'
import { type CatalogueInput, findCatalogue } from './index.ts'

const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-catalogue-'))
afterAll(() => rmSync(folder, { recursive: true }))

const find = (running: number, change: Partial<FindRecord> = {}): FindRecord => ({
  ...numberedFind(`NST-2026-${String(running).padStart(3, '0')}`),
  ...change,
})
const input = (finds: readonly FindRecord[], change: Partial<CatalogueInput> = {}): CatalogueInput => ({
  survey: { code: 'NST', title: 'Ninestile', demo: false },
  finds,
  placeOf: () => null,
  picturesOf: () => [],
  madeAt: new Date('2026-10-01T09:30:00Z'),
  ...change,
})
const coin = find(1, {
  objectType: { text: 'Coin', term: null },
  materials: [{ text: 'silver', term: null }],
  period: { text: 'Iron Age', term: null },
  fromYear: -50,
  toYear: 42,
  certainty: 'probable',
  weightG: 1.2345678,
  diameterMm: 12.5,
  dieAxisH: 6,
  count: 1,
  finder: 'SECRET finder',
  notes: 'SECRET notes',
  whereNow: 'SECRET box',
  signalNote: 'SECRET signal',
  description: 'Horse to the right.',
  parallels: ['A book, no. 5'],
})

test('facts are said as people say them, and what is not known is not said', () => {
  expect(headOf(coin)).toBe('Coin · silver · Iron Age')
  expect(factsOf(coin)).toEqual([
    '50 BC – AD 42 (probable)',
    'weight 1.235 g',
    'diameter 12.5 mm',
    'die axis 6 h',
  ])
  expect(headOf(find(2))).toBe('Not described yet')
  expect(factsOf(find(2, { fromYear: 43 }))).toEqual(['from AD 43'])
  expect(factsOf(find(2, { count: 3, damage: ['plough'] }))).toEqual(['3 pieces', 'damage: plough'])
})

/** Poppler's pdftotext (tried with 22.12.0), an outside reader of what was written. */
const canReadText = spawnSync('pdftotext', ['-v']).error === undefined
function pagesOf(bytes: Uint8Array): string[] {
  const file = path.join(folder, 'catalogue.pdf')
  writeFileSync(file, bytes)
  const text = execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' })
  return text.split('\f').slice(0, -1)
}

test.skipIf(!canReadText)('what is personal stays out, and the place unless it is given', async () => {
  const [text] = pagesOf(await findCatalogue(input([coin])))
  expect(text).toContain('NST-2026-001')
  expect(text).toContain('Horse to the right.')
  expect(text).toContain('Parallels: A book, no. 5')
  expect(text).not.toContain('SECRET')
  expect(text).not.toContain('found at')
  const [placed] = pagesOf(await findCatalogue(input([coin], { placeOf: () => 'TF 57' })))
  expect(placed).toContain('found at TF 57')
})

test.skipIf(!canReadText)(
  'a find is not torn over pages, every find is there once, and a text of pages is whole',
  async () => {
    const words = 'bent by the plough and lying on its side in a clod of clay with stubble '
    const finds = Array.from({ length: 120 }, (_, k) =>
      find(k + 1, { description: `start${k} ${words.repeat((k * 7) % 9)}end${k}` }),
    )
    const long = find(500, { description: `first ${words.repeat(150)} last` })
    const pages = pagesOf(await findCatalogue(input([...finds, long])))
    for (const [k, { number }] of finds.entries()) {
      const on = pages.filter((text) => text.includes(`${number} `))
      expect(on).toHaveLength(1)
      expect(on[0]).toMatch(new RegExp(`start${k}\\b[^]*\\bend${k}\\b`))
    }
    const whole = pages.join(' ').replaceAll(/\s+/g, ' ')
    expect(whole.split('lying on its side').length - 1).toBe(
      150 + finds.reduce((sum, _, k) => sum + ((k * 7) % 9), 0),
    )
    expect(whole).toContain('last')
    expect(pages.every((text) => /page \d+ of \d+/.test(text))).toBe(true)
  },
)

test('pictures are put in; one that cannot be is named', async () => {
  const plain = sharp({ create: { width: 300, height: 200, channels: 3, background: '#86a' } })
  const bytes = await findCatalogue(
    input([coin], {
      picturesOf: () => [
        { bytes: new Uint8Array([1, 2, 3]), caption: 'profile' },
        { bytes: new Uint8Array(2), caption: 'reverse' },
      ],
    }),
  )
  const jpeg = new Uint8Array(await plain.jpeg().toBuffer())
  const pictured = await findCatalogue(
    input([coin], { picturesOf: () => [{ bytes: jpeg, caption: 'obverse' }] }),
  )
  const images = (pdf: Uint8Array): number =>
    Buffer.from(pdf).toString('latin1').split('/Subtype /Image').length - 1
  expect([images(bytes), images(pictured)]).toEqual([0, 1])
})

test('a catalogue of nothing is refused, and the same finds are the same bytes', async () => {
  await expect(findCatalogue(input([]))).rejects.toThrow(RangeError)
  expect(await findCatalogue(input([coin]))).toEqual(await findCatalogue(input([coin])))
})
