import { execFileSync, spawnSync } from 'node:child_process'
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader'
import { type LabelStock, labelStocks, readLabelCode } from '#core/labels'
import { input, label, survey } from '../../test/report/sample-labels.ts'
import { type CodeKind, findLabels } from './index.ts'

const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-labels-'))
afterAll(() => rmSync(folder, { recursive: true }))

/** Poppler (tried with 22.12.0) draws the pages as a printer would; without it these tests are skipped. */
const drawer = 'pdftoppm'
const canDraw = spawnSync(drawer, ['-v']).error === undefined
const drawnTest = test.skipIf(!canDraw)
/** A thermal roll printer has 203 dots an inch, a laser printer 300 or more (common practice). */
const dpiOf = (stock: LabelStock): number => (stock.key.startsWith('roll') ? 203 : 300)

function drawn(bytes: Uint8Array, name: string, dpi: number): string[] {
  writeFileSync(path.join(folder, `${name}.pdf`), bytes)
  execFileSync(drawer, ['-r', String(dpi), '-png', path.join(folder, `${name}.pdf`), path.join(folder, name)])
  return readdirSync(folder)
    .filter((file) => file.startsWith(`${name}-`) && file.endsWith('.png'))
    .toSorted()
    .map((file) => path.join(folder, file))
}

/** ZXing-C++ by zxing-wasm, from its own file: nothing is fetched. */
beforeAll(() => {
  const wasm = readFileSync(fileURLToPath(import.meta.resolve('zxing-wasm/reader/zxing_reader.wasm')))
  prepareZXingModule({ overrides: { wasmBinary: new Uint8Array(wasm).buffer } })
})

/** All codes that ZXing finds on a drawn page, as the texts they hold. */
async function codesOn(file: string, kind: CodeKind): Promise<string[]> {
  const found = await readBarcodes(new Uint8Array(readFileSync(file)), {
    formats: [kind === 'qr' ? 'QRCode' : 'DataMatrix'],
    maxNumberOfSymbols: 255,
    tryHarder: true,
  })
  return found.map(({ text }) => text).toSorted()
}

/** Every stock with one kind of code in turn; the one with the smallest labels, and rolls, with both. */
const tried = labelStocks.flatMap((stock, i) => {
  const both: readonly CodeKind[] = ['data-matrix', 'qr']
  const kinds = stock.width < 40 || stock.key.startsWith('roll') ? both : [both[i % 2]!]
  return kinds.map((code) => ({ stock, code, name: stock.key }))
})
drawnTest.each(tried)('every code on $name as $code is read again by ZXing', async ({ stock, code }) => {
  const perPage = stock.columns * stock.rows
  const labels = Array.from({ length: perPage + 1 }, (_, k) => label(k + 1, { blank: k % 5 === 4 }))
  const pages = drawn(await findLabels(input(stock, labels, { code })), `${stock.key}-${code}`, dpiOf(stock))
  expect(pages).toHaveLength(2)
  const found = [...(await codesOn(pages[0]!, code)), ...(await codesOn(pages[1]!, code))]
  expect(found.map(readLabelCode)).toEqual(labels.map(({ number }) => ({ number, survey: survey.uuid })))
})
