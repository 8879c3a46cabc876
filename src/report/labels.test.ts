import { execFileSync, spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { labelStocks, rollStock } from '#core/labels'
import { input, label } from '../../test/report/sample-labels.ts'
import { findLabels } from './index.ts'

const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-labels-'))
afterAll(() => rmSync(folder, { recursive: true }))

const canReadText = spawnSync('pdftotext', ['-v']).error === undefined
test.skipIf(!canReadText)(
  'a label says number, place, day and words; a blank one only its number',
  async () => {
    const bytes = await findLabels(
      input(rollStock(62, 29), [
        label(7),
        label(8, { blank: true }),
        label(9, { text: 'Brooch ⚒ fragment', gridRef: null }),
      ]),
    )
    const file = path.join(folder, 'words.pdf')
    writeFileSync(file, bytes)
    const pages = execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' }).split('\f')
    expect(pages[0]).toContain('NST-2026-007')
    expect(pages[0]).toContain('TF 58512 47391')
    expect(pages[0]).toContain('12 September 2026')
    expect(pages[0]).toContain('Buckle')
    expect(pages[1]!.trim()).toBe('NST-2026-008')
    expect(pages[2]).toContain('Brooch ? fragment')
  },
)

test('long words stay on their label: one page a label however long they are', async () => {
  const long = label(1, { text: 'very long '.repeat(500), gridRef: 'x'.repeat(200) })
  const bytes = await findLabels(input(rollStock(54, 25), [long, long]))
  expect(
    Buffer.from(bytes)
      .toString('latin1')
      .match(/\/Type \/Page\b/g),
  ).toHaveLength(2)
})

test('the same labels are the same bytes', async () => {
  const once = await findLabels(input(labelStocks[0]!, [label(1)]))
  expect(await findLabels(input(labelStocks[0]!, [label(1)]))).toEqual(once)
})

test('labels of a bad number, none and too many are refused', async () => {
  await expect(findLabels(input(labelStocks[0]!, [label(1, { number: '7' })]))).rejects.toThrow(RangeError)
  await expect(findLabels(input(labelStocks[0]!, []))).rejects.toThrow(RangeError)
})
