import { readFileSync } from 'node:fs'
import { brotliDecompressSync } from 'node:zlib'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { coordinateAt } from './coordinate.ts'
import { coordinateNotations } from './coordinate-notations.ts'
import { gridFor } from './grid-for.ts'
import { placeInGrid } from './grid-position.ts'
import { parseCoordinate } from './parse-coordinate.ts'
import { decodeShiftGrid } from './shift-grid.ts'

const shift = decodeShiftGrid(
  brotliDecompressSync(readFileSync(new URL('../../../data/ostn15.bin.br', import.meta.url))),
)
const context = { shift }
const told = (text: string) => coordinateNotations(parseCoordinate(text, context), context)

test('TP04 of the OSTN15 test stations (Ordnance Survey, 2016) in all notations', () => {
  // Longitude, latitude, easting and northing are the station's; UTM and MGRS are GeoConvert's (GeographicLib 2.1.2).
  const all = told('50.57563665000, -1.29782277240')
  expect(all.wgs84).toEqual({ lat: 50.575_636_65, lon: -1.297_822_772_4 })
  expect(all.grid).toMatchObject({
    system: 'British National Grid',
    epsg: 27_700,
    method: 'OSTN15',
    expectedErrorM: 0.1,
  })
  expect(Math.abs(all.grid.easting - 449_816.371)).toBeLessThan(0.0006)
  expect(Math.abs(all.grid.northing - 75_335.861)).toBeLessThan(0.0006)
  expect(all.gridRef).toBe('SZ 49816 75335')
  expect(all.utm).toBe('30N 620523.901 5604018.930')
  expect(all.mgrs).toBe('30UXB2052304018')
  expect(all.dms).toBe(`50°34'32.29194"N 1°17'52.16198"W`)
  expect(all.note).toContain('ETRS89')
  expect(all.warnings).toEqual([])
})

test('a reference keeps its square in every notation', () => {
  const all = told('TG 514 131')
  expect(all).toMatchObject({
    gridRef: 'TG 514 131',
    grid: { easting: 651_400, northing: 313_100 },
    square: { epsg: 27_700, easting: 651_400, northing: 313_100, sizeM: 100 },
    precisionM: 100,
    accuracyM: 70.7,
  })
  expect(all.mgrs).toHaveLength(5 + 6)
  expect(told('SP11A')).toMatchObject({ gridRef: 'SP11A', precisionM: 2000 })
})

test('Ireland: the grid of the text, the other grids beside it, a lettered reference', () => {
  const typed = told('O 159 346')
  expect(typed.grid).toMatchObject({
    system: 'Irish Grid',
    method: 'OSi/LPS polynomial',
    expectedErrorM: 0.4,
  })
  expect(typed.grids.map(({ epsg }) => epsg)).toEqual([29_903, 2157, 32_629])
  const angles = told('53.35, -6.26')
  expect(angles.grid.epsg).toBe(2157)
  expect(angles.gridRef).toBe('O 15920 34694')
})

test('elsewhere there is no lettered reference and no remark on ETRS89', () => {
  expect(told('-33.857, 151.215')).toMatchObject({ gridRef: null, note: null, grid: { epsg: 32_756 } })
  expect(told('89 10')).toMatchObject({ utm: 'UPS N 2019280 1890660', grid: { epsg: 5041 } })
})

test('rough angles are said to be rough', () => {
  expect(told('52.6 1.7').warnings).toEqual([
    'The text gives the place to about 11 km only; finer figures follow from it but are not known.',
  ])
  expect(told('52.65757 1.71792').warnings).toEqual([])
})

test('a grid asked for that does not reach the place is a fault', () => {
  const place = parseCoordinate('48.85 2.35', context)
  expect(() => coordinateNotations(place, { shift, epsg: 27_700 })).toThrow(
    expect.objectContaining({ code: 'outside-grid' }),
  )
  expect(() => placeInGrid(2.35, 48.85, { shift, epsg: 27_700 })).toThrow(
    expect.objectContaining({ code: 'outside-grid' }),
  )
})

test('every notation told of a place leads back to it', () => {
  const lon = fc.oneof(
    fc.double({ min: -180, max: 180, noNaN: true }),
    fc.double({ min: -10, max: 2, noNaN: true }),
  )
  const lat = fc.oneof(
    fc.double({ min: -90, max: 90, noNaN: true }),
    fc.double({ min: 50, max: 60, noNaN: true }),
  )
  fc.assert(
    fc.property(lon, lat, (x, y) => {
      const all = coordinateNotations(coordinateAt(x, y, 0.001), context)
      const near = (text: string, metres: number): void => {
        const read = parseCoordinate(text, context)
        const east = (((read.lon - x + 540) % 360) - 180) * Math.cos((y * Math.PI) / 180)
        expect(Math.hypot(east, read.lat - y) * 111_700, text).toBeLessThan(metres)
      }
      near(all.dms, 0.002)
      near(all.utm, 0.002)
      near(all.mgrs, 1.5)
      if (all.gridRef !== null) near(all.gridRef, 1.5)
      near(`EPSG:${all.grid.epsg} ${all.grid.easting} ${all.grid.northing}`, 0.002)
      expect(placeInGrid(x, y, context)).toMatchObject({ ...all.grid, gridRef: all.gridRef })
      expect(all.grid.epsg).toBe(gridFor(x, y, shift))
    }),
    { numRuns: 1000 },
  )
})
