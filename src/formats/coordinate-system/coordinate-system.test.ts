import { readFileSync } from 'node:fs'
import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { geodesicLine, isPlanarGrid } from '#core/geodesy'
import { type SourceSystem, systemFromEpsg, systemFromWkt } from './index.ts'

interface Expected {
  readonly code: number
  readonly esri: string
  readonly ogc: string
  readonly planar: readonly (readonly [number, number])[]
  readonly onDatum: readonly (readonly [number, number])[]
  readonly wgs84: readonly (readonly [number, number])[]
}

const expected = JSON.parse(
  readFileSync(new URL('../../../fixtures/formats/prj/expected.json', import.meta.url), 'utf8'),
) as Expected[]
const of = (code: number): Expected => expected.find((system) => system.code === code)!

function known(wkt: string): SourceSystem {
  const system = systemFromWkt(wkt)
  if ('reason' in system) return expect.fail(`${wkt.slice(0, 60)} ${system.reason}`)
  return system
}

function converted(system: SourceSystem, pair: readonly [number, number]): [number, number] {
  const out = Float64Array.from(pair)
  system.convert?.(out, out)
  return [out[0]!, out[1]!]
}

const metresApart = (a: readonly [number, number], b: readonly [number, number]): number =>
  geodesicLine(a[0], a[1], b[0], b[1]).distanceM

/** The same definition with the datum called WGS 84: what is left is the projection, whose figures PROJ gives for its own datum. */
const onItsOwnDatum = (wkt: string): string =>
  wkt.replace(/DATUM\["[^"]*"/, 'DATUM["D_WGS_1984"').replace(/TOWGS84\[[^\]]*\],?/, '')

const grids = new Set([27700, 29902, 29903, 2157, 32630, 32733, 25831, 26917])
const refused = new Set([5514, 3078, 28191, 27200])

test.each(['esri', 'ogc'] as const)('projections agree with PROJ 9.1.1 within 1 mm, %s text', (form) => {
  let checked = 0
  for (const { code, [form]: wkt, planar, onDatum } of expected) {
    const system = systemFromWkt(onItsOwnDatum(wkt))
    if ('reason' in system || system.convert === null) continue
    checked++
    expect(system.epsg).toBe(4326)
    planar.forEach((pair, i) => {
      expect(metresApart(converted(system, pair), onDatum[i]!), `EPSG ${code}`).toBeLessThan(0.001)
    })
  }
  expect(checked).toBe(22)
})

test.each(['esri', 'ogc'] as const)(
  'positions agree with PROJ 9.1.1, the datum included, %s text',
  (form) => {
    for (const { code, [form]: wkt, planar, wgs84 } of expected) {
      if (grids.has(code) || refused.has(code)) continue
      const system = known(wkt)
      // PROJ chooses among several sets of parameters by place; the note says what is left.
      const said = Number(/about (\d+) m out/.exec(system.note ?? '')?.[1] ?? 0.001)
      planar.forEach((pair, i) => {
        expect(metresApart(converted(system, pair), wgs84[i]!), `EPSG ${code}`).toBeLessThan(said)
      })
    }
  },
)

test('grids that core/geodesy works in are kept as they are', () => {
  const kept = [...grids].map((code) => {
    const { epsg, convert, note } = known(of(code).esri)
    expect(known(of(code).ogc)).toMatchObject({ epsg, convert })
    return [code, epsg, convert, note === null]
  })
  expect(kept).toEqual([
    [27700, 27700, null, true],
    [29902, 29903, null, false],
    [29903, 29903, null, true],
    [2157, 2157, null, true],
    [32630, 32630, null, true],
    [32733, 32733, null, true],
    [25831, 32631, null, true],
    [26917, 32617, null, true],
  ])
})

test('OSGB36 in any other form becomes the National Grid on its own datum, never by a Helmert', () => {
  const { esri, planar, onDatum } = of(27700)
  const geographic = /GEOGCS\[.*?\]\],PRIMEM\[[^\]]*\],UNIT\[[^\]]*\]\]/.exec(esri)![0]
  const withHelmert = geographic.replace(
    ']],PRIMEM',
    '],TOWGS84[446,-125,542,0.15,0.247,0.842,-20.5]],PRIMEM',
  )
  for (const wkt of [geographic, withHelmert]) {
    const system = known(wkt)
    expect(system).toMatchObject({ epsg: 27_700, degrees: true, note: null })
    onDatum.forEach((pair, i) => {
      const [e, n] = converted(system, pair)
      expect(Math.hypot(e - planar[i]![0], n - planar[i]![1])).toBeLessThan(0.001)
    })
  }
  const feet = esri
    .replace('400000.0', String(400_000 / 0.3048))
    .replace('-100000.0', String(-100_000 / 0.3048))
    .replace('UNIT["Meter",1.0]', 'UNIT["Foot",0.3048]')
  const system = known(feet)
  expect(system).toMatchObject({ epsg: 27_700, note: null })
  planar.forEach(([e, n]) => {
    const [e2, n2] = converted(system, [e / 0.3048, n / 0.3048])
    expect(Math.hypot(e - e2, n - n2)).toBeLessThan(0.001)
  })
})

test('Irish longitude and latitude become the Irish Grid', () => {
  const { planar, onDatum } = of(29903)
  for (const code of [4299, 4300]) {
    const system = systemFromEpsg(code)!
    expect(system.epsg).toBe(29_903)
    onDatum.forEach((pair, i) => {
      const [e, n] = converted(system, pair)
      expect(Math.hypot(e - planar[i]![0], n - planar[i]![1])).toBeLessThan(0.001)
    })
  }
})

test('the figures of the National Grid under another datum are the National Grid, and that is said', () => {
  const system = known(onItsOwnDatum(of(27700).esri))
  expect(system).toMatchObject({ epsg: 27_700, convert: null })
  expect(system.note).toContain('names another datum (wgs_1984)')
})

test('longitude and latitude on WGS84 and its like stay as they are', () => {
  for (const code of [4326, 4258, 4269]) {
    expect(systemFromEpsg(code)).toMatchObject({ epsg: 4326, convert: null, degrees: true, note: null })
  }
  const bare =
    'GEOGCS["unknown",DATUM["unknown",SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]]'
  expect(known(bare)).toMatchObject({ epsg: 4326, note: expect.stringContaining('WGS84 was taken') })
})

test('another prime meridian and grads are counted in', () => {
  const paris =
    'GEOGCS["x",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Paris",2.5969213],UNIT["Grad",0.015707963267948967]]'
  const system = known(paris)
  expect(system).toMatchObject({ epsg: 4326, degrees: false })
  const [lon, lat] = converted(system, [-2.5969213, 55])
  expect(lon).toBeCloseTo(0, 9)
  expect(lat).toBeCloseTo(49.5, 9)
})

test.each<[string, RegExp]>([
  ['', /no well-known text/],
  ['GEOGCS["x"', /no well-known text/],
  ['PROJCRS["x",BASEGEOGCRS["y"]]', /kind PROJCRS/],
  ['LOCAL_CS["dig grid",UNIT["metre",1]]', /kind LOCAL_CS/],
  [
    'GEOGCS["x",DATUM["D_Moon",SPHEROID["Moon",1737400,0]],UNIT["Degree",0.0174532925199433]]',
    /no usable ellipsoid/,
  ],
  [
    'GEOGCS["x",DATUM["D_Somewhere",SPHEROID["s",6378245,298.3]],UNIT["Degree",0.0174532925199433]]',
    /datum somewhere/,
  ],
])('%j is refused with the reason', (wkt, reason) => {
  const system = systemFromWkt(wkt)
  expect('reason' in system && system.reason).toMatch(reason)
})

test.each([...refused])(
  'EPSG %i is refused: a projection or a datum that is not held to anything',
  (code) => {
    expect(systemFromWkt(of(code).esri)).toHaveProperty('reason')
  },
)

test('an EPSG code serves where nothing else can be read', () => {
  expect(known('PROJCRS["BNG",BASEGEOGCRS["OSGB36"],ID["EPSG",27700]]')).toMatchObject({ epsg: 27_700 })
  expect(known(' EPSG:25830 ')).toMatchObject({ epsg: 32_630 })
})

test('systems known by code agree with PROJ as those of the text do', () => {
  for (const { code, planar, wgs84 } of expected) {
    const system = systemFromEpsg(code)
    if (system === null || system.convert === null) continue
    const said = Number(/about (\d+) m out/.exec(system.note ?? '')?.[1] ?? 0.001)
    planar.forEach((pair, i) => {
      expect(metresApart(converted(system, pair), wgs84[i]!), `EPSG ${code}`).toBeLessThan(said)
    })
  }
  expect(systemFromEpsg(27_700)).toMatchObject({ epsg: 27_700, convert: null })
  expect(systemFromEpsg(25_829)).toMatchObject({ epsg: 32_629, convert: null })
  expect(systemFromEpsg(2193)).toBeNull()
})

test('far outside its reach a projection gives nothing rather than a place', () => {
  for (const code of [3035, 2154, 28_992, 23_031]) {
    const system = systemFromEpsg(code)!
    const xy = Float64Array.of(9e8, 9e8, -5e7, 4e7, Number.NaN, 0, Infinity, 1)
    system.convert!(xy, xy)
    for (let i = 0; i < xy.length; i += 2) {
      const [lon, lat] = [xy[i]!, xy[i + 1]!]
      expect((Number.isNaN(lon) && Number.isNaN(lat)) || (Math.abs(lon) <= 180 && Math.abs(lat) <= 90)).toBe(
        true,
      )
    }
    expect(Number.isNaN(xy[0])).toBe(true)
  }
})

test('text damaged at random is read or refused, and what is read gives places or nothing', () => {
  const cut = fc.tuple(fc.nat(500), fc.nat(8), fc.string({ maxLength: 3 }))
  fc.assert(
    fc.property(
      fc.constantFrom(...expected),
      fc.array(cut, { minLength: 1, maxLength: 4 }),
      ({ esri, planar }, cuts) => {
        const text = cuts.reduce(
          (old, [at, size, more]) => old.slice(0, at) + more + old.slice(at + size),
          esri,
        )
        const system = systemFromWkt(text)
        if ('reason' in system) return
        expect(system.epsg === 4326 || isPlanarGrid(system.epsg)).toBe(true)
        const [x, y] = converted(system, planar[0]!)
        if (system.convert && system.epsg === 4326) {
          expect(Number.isNaN(x) ? Number.isNaN(y) : Math.abs(x) <= 180 && Math.abs(y) <= 90).toBe(true)
        }
      },
    ),
    { numRuns: Number(process.env.FUZZ_RUNS ?? 500) },
  )
})
