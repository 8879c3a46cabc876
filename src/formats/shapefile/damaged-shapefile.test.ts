import { readdirSync, readFileSync } from 'node:fs'
import * as fc from 'fast-check'
import { zipSync } from 'fflate'
import { expect, test } from 'vitest'
import { isSurveyError } from '#core/faults'
import { isPlanarGrid } from '#core/geodesy'
import { readShapefile } from './index.ts'

const parts = ['shp', 'shx', 'dbf', 'prj', 'cpg'] as const
type Part = (typeof parts)[number]

const home = new URL('../../../fixtures/formats/', import.meta.url)
const layers = [
  'shapefile-gdal/fields',
  'shapefile-gdal/walks',
  'shapefile-gdal/spots',
  'shapefile/mixed-properties',
  'shapefile/null',
  'shapefile/multipoints',
]

function filesOf(layer: string): Partial<Record<Part, Uint8Array>> {
  const [folder, stem] = layer.split('/')
  const there = new Set(readdirSync(new URL(`${folder}/`, home)))
  const found = parts.filter((part) => there.has(`${stem}.${part}`))
  return Object.fromEntries(
    found.map((part) => [part, new Uint8Array(readFileSync(new URL(`${layer}.${part}`, home)))]),
  )
}

const archiveOf = (files: Partial<Record<Part, Uint8Array>>): Uint8Array =>
  zipSync(Object.fromEntries(Object.entries(files).map(([part, bytes]) => [`a.${part}`, bytes])), {
    level: 0,
  })

/** Reading ends in good content or in a refusal in words. */
function mustEnd(archive: Uint8Array): void {
  try {
    const { areas, tracks, findspots, faults } = readShapefile(archive, { fileName: 'a.zip' })
    for (const { text } of faults) expect(text.length).toBeLessThan(500)
    for (const { epsg } of [...areas, ...tracks, ...findspots])
      expect(epsg === 4326 || isPlanarGrid(epsg)).toBe(true)
    for (const { x, y } of findspots) expect(Number.isFinite(x) && Number.isFinite(y)).toBe(true)
    for (const { xy, segmentStart } of tracks) {
      expect(xy.every(Number.isFinite)).toBe(true)
      expect(
        [...segmentStart].every((from, i, all) => from < xy.length / 2 && (i === 0 || from > all[i - 1]!)),
      ).toBe(true)
    }
    for (const { rings } of areas.flatMap(({ polygons }) => polygons)) {
      for (const ring of rings) {
        expect(ring.length).toBeGreaterThanOrEqual(8)
        expect([ring.at(-2), ring.at(-1)]).toEqual([ring[0], ring[1]])
        expect(ring.every(Number.isFinite)).toBe(true)
      }
    }
  } catch (cause) {
    if (!isSurveyError(cause)) throw cause
    expect(cause.message.startsWith('a.zip')).toBe(true)
  }
}

const flip = fc.tuple(fc.double({ min: 0, max: 0.999_999, noNaN: true }), fc.nat(255))
const runs = Number(process.env.FUZZ_RUNS ?? 200)

test.each(layers)('%s, any part of it damaged at random, is read in part or refused in words', (layer) => {
  const files = filesOf(layer)
  const damage = fc.record({
    part: fc.constantFrom(...(Object.keys(files) as Part[])),
    flips: fc.array(flip, { maxLength: 6 }),
    keep: fc.option(fc.double({ min: 0, max: 1, noNaN: true })),
    gone: fc.boolean(),
  })
  fc.assert(
    fc.property(fc.array(damage, { minLength: 1, maxLength: 3 }), (damages) => {
      const now = { ...files }
      for (const { part, flips, keep, gone } of damages) {
        const bytes = now[part]?.slice() ?? new Uint8Array(0)
        for (const [place, value] of flips)
          if (bytes.length > 0) bytes[Math.floor(place * bytes.length)] = value
        now[part] = keep === null ? bytes : bytes.slice(0, Math.floor(keep * bytes.length))
        if (gone && part !== 'shp') delete now[part]
      }
      mustEnd(archiveOf(now))
    }),
    { numRuns: runs },
  )
})

test.each(layers)('%s, cut at every byte of its .shp, keeps whole records and no others', (layer) => {
  const files = filesOf(layer)
  const whole = readShapefile(archiveOf(files), { fileName: 'a.zip' })
  const count = ({ areas, tracks, findspots }: typeof whole): number =>
    areas.length + tracks.length + findspots.length
  let last = 0
  for (let cut = 0; cut <= files.shp!.length; cut += cut < 400 ? 1 : 7) {
    const archive = archiveOf({ ...files, shp: files.shp!.slice(0, cut) })
    mustEnd(archive)
    const kept = count(readShapefile(archive, { fileName: 'a.zip' }))
    expect(kept).toBeGreaterThanOrEqual(last)
    last = kept
  }
  expect(count(readShapefile(archiveOf(files), { fileName: 'a.zip' }))).toBe(count(whole))
})

test('the archive itself, damaged at random', () => {
  const archive = zipSync(
    Object.fromEntries(
      Object.entries(filesOf('shapefile-gdal/fields')).map(([part, bytes]) => [`a.${part}`, bytes]),
    ),
  )
  fc.assert(
    fc.property(
      fc.array(flip, { minLength: 1, maxLength: 4 }),
      fc.option(fc.double({ min: 0, max: 1, noNaN: true })),
      (flips, keep) => {
        const bytes = archive.slice()
        for (const [place, value] of flips) bytes[Math.floor(place * bytes.length)] = value
        mustEnd(keep === null ? bytes : bytes.slice(0, Math.floor(keep * bytes.length)))
      },
    ),
    { numRuns: runs },
  )
})
