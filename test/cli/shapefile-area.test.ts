import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { zipSync } from 'fflate'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { CoverFigures, ImportReply } from '#contract'
import { lynchetJson, runLynchet } from './run-lynchet.ts'

/** The fields that GDAL wrote (fixtures/formats/shapefile-gdal), in the National Grid, as a user would hand them over. */
const home = new URL('../../fixtures/formats/shapefile-gdal/', import.meta.url)
let folder = ''
const at = (name: string): string => path.join(folder, name)

function zip(name: string, parts: readonly string[]): void {
  const files = parts.map((part) => [
    `land/fields.${part}`,
    new Uint8Array(readFileSync(new URL(`fields.${part}`, home))),
  ])
  writeFileSync(at(name), zipSync(Object.fromEntries(files)))
}

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'shapefile-area-'))
  zip('fields.zip', ['shp', 'shx', 'dbf', 'prj', 'cpg'])
  zip('no-prj.zip', ['shp', 'shx', 'dbf'])
  writeFileSync(at('walk.csv'), 'track,easting,northing,epsg\na,570000,350100,27700\na,570250,350100,27700\n')
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

test('a zipped shapefile is the search area, holes and parts counted', () => {
  const words = ['--area', at('fields.zip'), '--width', '2', '--max-jump', '300', '--cell', '0.25']
  const cover = lynchetJson<CoverFigures>('cover', at('walk.csv'), ...words)
  // ogrinfo 3.6.2, SQLite dialect: select sum(st_area(geometry)) from fields.
  expect(cover.areaM2).toBeCloseTo(80_439.718_464, 2)
  expect(cover.distanceM).toBeCloseTo(250, 6)
})

test('imported, its fields are areas; without a .prj it is refused with what to do', () => {
  const { files } = lynchetJson<ImportReply>('import', at('survey.gpkg'), at('fields.zip'))
  expect(files[0]).toMatchObject({ kind: 'shapefile', added: { areas: 3 } })
  const refused = runLynchet('import', at('survey.gpkg'), at('no-prj.zip'))
  expect(refused.code).toBe(1)
  expect(refused.err).toContain('put the .prj that belongs to fields.shp into the zip')
})
