import { expect, test } from 'vitest'
import { normal, seededRandom } from '#core/random'
import { ridges } from '../ground/ridges.ts'
import { kernelMargin, lineScales, ringKernels, tableSteps } from './ring-kernels.ts'
import { eachMapPair, ringSpectra } from './ring-maps.ts'

test('maps of every fourth pixel are the whole maps at those pixels', () => {
  const [columns, rows] = [70, 45]
  const random = seededRandom(5)
  const values = Float32Array.from({ length: columns * rows }, () => normal(random))
  const [first, second] = ringKernels([5, 8], new Float64Array(tableSteps).fill(1))
  const maps = (every: 1 | 4): { at: (x: number, y: number) => readonly [number, number] } => {
    const part = { left: 0, top: 0, columns, rows, stride: columns }
    const spectra = ringSpectra(values, ridges(values, { columns, rows }, lineScales), part, 8 + kernelMargin)
    let at = (_x: number, _y: number): readonly [number, number] => [Number.NaN, Number.NaN]
    eachMapPair(spectra, [[first!, second!]], { rows, every }, (_, one, two, stride) => {
      const [a, b] = [one.slice(), two.slice()]
      at = (x, y) => [a[(y / every) * stride + x / every]!, b[(y / every) * stride + x / every]!]
    })
    return { at }
  }
  const whole = maps(1)
  const fourth = maps(4)
  for (let y = 0; y < rows; y += 4)
    for (let x = 0; x < columns; x += 4)
      for (const k of [0, 1] as const) expect(fourth.at(x, y)[k]).toBeCloseTo(whole.at(x, y)[k], 4)
})
