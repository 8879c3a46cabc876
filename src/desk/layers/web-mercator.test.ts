import { expect, test } from 'vitest'
import { planarGrid } from '#core/geodesy'
import { gridToMercator } from './web-mercator.ts'

/** IOGP guidance note 7-2, worked example of method 1024: 24°22'54.433"N, 100°20'00.000"W. Its figures are to 0.01 m. */
const lat = 24.381_786_944
const lon = -100.333_333_333
const tolerance = 0.01

test('web mercator as the worked example has it, through a grid and back', () => {
  // UTM zone 14 north holds the place.
  const grid = planarGrid(32_614, null)
  const inGrid = new Float64Array([lon, lat])
  grid.forward(inGrid, inGrid)
  const { there, back } = gridToMercator(grid)
  const [x = 0, y = 0] = there([...inGrid])
  expect(Math.abs(x - -11_169_055.58)).toBeLessThan(tolerance)
  expect(Math.abs(y - 2_800_000)).toBeLessThan(tolerance)
  const [easting = 0, northing = 0] = back([x, y])
  expect(Math.hypot(easting - inGrid[0]!, northing - inGrid[1]!)).toBeLessThan(1e-3)
})
