import { expect, test } from 'vitest'
import { type Pixels, paintDots } from './dots.ts'

const picture = (width: number, height: number): Pixels => ({
  data: new Uint8ClampedArray(width * height * 4),
  width,
  height,
})

const shape = ({ data, width, height }: Pixels): string[] =>
  Array.from({ length: height }, (_, y) =>
    Array.from({ length: width }, (_, x) => (data[4 * (y * width + x) + 3] === 255 ? '#' : '.')).join(''),
  )

test('a dot is a diamond', () => {
  const sheet = picture(5, 5)
  paintDots(sheet, Float64Array.of(2, 2), 2, [1, 2, 3])
  expect(shape(sheet)).toEqual(['..#..', '.###.', '#####', '.###.', '..#..'])
  expect([...sheet.data.slice(8, 12)]).toEqual([1, 2, 3, 255])
})

test('what falls outside is cut off, not wrapped round', () => {
  const sheet = picture(4, 3)
  paintDots(sheet, Float64Array.of(0, 0, 9, 9, -5, 1), 1, [9, 9, 9])
  expect(shape(sheet)).toEqual(['##..', '#...', '....'])
})
