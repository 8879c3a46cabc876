import { closeSync, mkdtempSync, openSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { findPits, type Raster, type RingSettings } from '#core/marks'
import { drawnPits } from '../../test/marks/drawn-pits.ts'
import { pitsInThreads } from './marks-in-threads.ts'
import { blockLevels, blockSide, writeBlockRow, writeUpperLevels } from './pyramid-blocks.ts'

const settings: RingSettings = { minDiameterPx: 8, maxDiameterPx: 20, tone: 'dark', most: 50 }

/** A raster as the work reads it; the file goes when the test ends. */
function onBlocks({ columns, rows, values }: Raster) {
  const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-blocks-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  const blocks = path.join(folder, 'raster.f32')
  const { levels } = blockLevels(columns, rows)
  const fd = openSync(blocks, 'w+')
  for (let down = 0; down * blockSide < rows; down++) {
    const band = values.subarray(down * blockSide * columns, (down + 1) * blockSide * columns)
    writeBlockRow(fd, levels[0]!, down, band)
  }
  writeUpperLevels(fd, levels, () => {}, '')
  closeSync(fd)
  return { blocks, columns, rows }
}

test('pits by threads from a file are those of the raster in memory', async () => {
  const raster = drawnPits(260, [{ x: 120, y: 200, sigma: 3 }], 5)
  const { candidates, flat } = await pitsInThreads({ ...onBlocks(raster), settings })
  const whole = findPits(raster, settings)
  expect(flat).toBe(false)
  expect(candidates).toHaveLength(whole.length)
  candidates.forEach(({ x, y, diameter, contrast }, i) => {
    for (const [part, all] of [
      [x, whole[i]!.x],
      [y, whole[i]!.y],
      [diameter, whole[i]!.diameter],
      [contrast, whole[i]!.contrast],
    ] as const)
      expect(part).toBeCloseTo(all, 4)
  })
})

test('a raster of one value is flat', async () => {
  const even = onBlocks({ columns: 80, rows: 80, values: new Float32Array(80 * 80).fill(3) })
  expect(await pitsInThreads({ ...even, settings })).toMatchObject({ candidates: [], flat: true })
})

test('a range that cannot be looked for is refused', () => {
  const raster = { blocks: 'none', columns: 80, rows: 80 }
  expect(() => pitsInThreads({ ...raster, settings: { ...settings, minDiameterPx: 2 } })).toThrow(RangeError)
})
