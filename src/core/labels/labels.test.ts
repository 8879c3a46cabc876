import fc from 'fast-check'
import { expect, test } from 'vitest'
import { labelCodeText, labelPlaces, labelStocks, readLabelCode, rollStock } from './index.ts'

test.each(labelStocks)('$key: labels lie on the sheet and apart', (stock) => {
  const perPage = stock.columns * stock.rows
  const places = labelPlaces(stock, perPage + 1, 0)
  for (const { x, y } of places) {
    expect(x).toBeGreaterThanOrEqual(-1e-9)
    expect(y).toBeGreaterThanOrEqual(-1e-9)
    expect(x + stock.width).toBeLessThanOrEqual(stock.pageWidth + 1e-9)
    expect(y + stock.height).toBeLessThanOrEqual(stock.pageHeight + 1e-9)
  }
  expect(stock.stepX).toBeGreaterThanOrEqual(stock.width)
  expect(stock.stepY).toBeGreaterThanOrEqual(stock.height)
  expect(places.at(-1)).toMatchObject({ page: 1, x: stock.left, y: stock.top })
})

test('labels left out shift the rest and open a page in time', () => {
  const stock = labelStocks[0]!
  const places = labelPlaces(stock, 24, 5)
  expect(places[0]).toMatchObject({ page: 0, x: stock.left + 2 * stock.stepX, y: stock.top + stock.stepY })
  expect(places.filter(({ page }) => page === 1)).toHaveLength(5)
  expect(() => labelPlaces(stock, 1, 24)).toThrow(RangeError)
  expect(() => rollStock(10, 10)).toThrow(RangeError)
})

test('a code is read back', () => {
  fc.assert(
    fc.property(fc.stringMatching(/^[A-Z][A-Z0-9]{1,7}-\d{4}-\d{3,9}$/), fc.uuid(), (number, survey) => {
      expect(readLabelCode(labelCodeText({ number, survey }))).toEqual({ number, survey })
    }),
  )
})

test('a typed number is read, other codes are not', () => {
  expect(readLabelCode(' nst-2026-007 ')).toEqual({ number: 'NST-2026-007', survey: null })
  for (const text of ['', '5012345678900', 'https://example.org', 'NST-2026-007 6F1C', 'NST-2026']) {
    expect(readLabelCode(text)).toBeNull()
  }
  expect(() => labelCodeText({ number: 'x', survey: '6f1c0a1e-8d3b-4a52-9c77-0e4f5b6a7d81' })).toThrow(
    RangeError,
  )
  expect(() => labelCodeText({ number: 'NST-2026-007', survey: 'x' })).toThrow(RangeError)
})
