import { existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import { planarGrid } from '#core/geodesy'
import { ostn15 } from '#work'
import { codes, emptySurvey, opened } from '../../../test/service/open-layers.ts'
import {
  folderForTest,
  ground,
  nationalGridText,
  pixelsOf,
  placedPicture,
  rampColour,
  rampPicture,
  worldText,
} from '../../../test/service/pictures.ts'
import { importFile, importFiles } from '../import-file.ts'

test('a picture with world and .prj file becomes a layer where it lies, by reference, and sets the grid', async () => {
  const folder = folderForTest()
  const files = await placedPicture(folder)
  const survey = path.join(folder, 'nst.gpkg')
  const { files: replies } = await importFiles(survey, [files[1], files[0], files[2]])
  expect(replies.map(({ kind, alreadyThere, faults }) => [kind, alreadyThere, faults])).toEqual([
    ['world-file', false, []],
    ['png', false, []],
    ['coordinate-system', false, []],
  ])
  expect(replies[1]).toMatchObject({
    added: { layers: 1, tracks: 0 },
    bounds: [ground.west, ground.south, ground.west + 400, ground.south + 300],
  })
  const { survey: open, layers } = opened(survey)
  expect(open.identity().gridEpsg).toBe(27_700)
  expect(open.layers()[0]!.files.map(({ role, path: at }) => [role, at])).toEqual([
    ['raster', files[0]],
    ['world', files[1]],
    ['system', files[2]],
  ])
  expect(layers.list()).toMatchObject([
    {
      name: 'field.png',
      kind: 'image',
      found: true,
      inside: false,
      columns: 400,
      rows: 300,
      bands: 3,
      pixelM: 1,
      tileM: 1,
      epsg: 27_700,
      expectedErrorM: null,
      levels: 2,
      ready: true,
      placedBy: 'world-file',
      views: expect.arrayContaining(['as-is', 'decorrelated']),
    },
  ])
})

test('tiles show the picture where it lies: colours at known places, clear outside', async () => {
  const folder = folderForTest()
  const survey = path.join(folder, 'nst.gpkg')
  await importFiles(survey, await placedPicture(folder))
  const { layers } = opened(survey)
  const [layer] = layers.list()
  const [west, , , north] = layer!.bounds!
  for (const level of [0, 1]) {
    const sideM = 256 * 2 ** level
    for (const [column, row] of [
      [0, 0],
      [1, 1],
    ] as const) {
      const { png, whole } = await layers.tile(layer!.id, { level, column, row }, null)
      expect(whole).toBe(true)
      const tile = await pixelsOf(png)
      for (const [x, y] of [
        [10, 10],
        [100, 30],
        [140, 40],
        [255, 255],
      ] as const) {
        const easting = west + column * sideM + (x + 0.5) * 2 ** level
        const northing = north - row * sideM - (y + 0.5) * 2 ** level
        const [across, down] = [(easting - ground.west) / 400, (ground.south + 300 - northing) / 300]
        const inside = across < 1 && down < 1
        const seen = tile.at(x, y)
        if (!inside) expect(seen.at(-1)).toBe(0)
        else {
          expect(seen.at(-1)).toBe(255)
          for (const [k, value] of rampColour(across, down).entries()) {
            expect(Math.abs(seen[k]! - value)).toBeLessThanOrEqual(2)
          }
        }
      }
    }
  }
})

test('a picture in degrees lies where OSTN15 puts it', async () => {
  const folder = folderForTest()
  const grid = planarGrid(27_700, ostn15())
  const corner = Float64Array.of(ground.west, ground.south + 300, ground.west + 400, ground.south)
  grid.inverse(corner, corner)
  const [lon, lat, lonEast, latSouth] = corner as unknown as [number, number, number, number]
  const picture = path.join(folder, 'geo.png')
  await rampPicture(400, 300).png().toFile(picture)
  const [dx, dy] = [(lonEast - lon) / 400, (latSouth - lat) / 300]
  const world = path.join(folder, 'geo.pgw')
  writeFileSync(world, [dx, 0, 0, dy, lon + dx / 2, lat + dy / 2].join('\n'))
  const survey = path.join(folder, 'nst.gpkg')
  const { files } = await importFiles(survey, [picture, world], { epsg: 4326 })
  expect(files[0]!.faults).toEqual([])
  const { layers } = opened(survey)
  const [layer] = layers.list()
  expect(layer!.expectedErrorM).toBe(0.1)
  expect(layer!.epsg).toBe(4326)
  const [west, south, east, north] = layer!.bounds!
  // Turned a little against the grid, so a few metres wider on each side.
  for (const [found, expected] of [
    [west, ground.west],
    [south, ground.south],
    [east, ground.west + 400],
    [north, ground.south + 300],
  ] as const) {
    expect(Math.abs(found - expected)).toBeLessThan(25)
  }
  const tile = await pixelsOf((await layers.tile(layer!.id, { level: 1, column: 0, row: 0 }, null)).png)
  const at = Float64Array.of(west + 201 * layer!.tileM, north - 151 * layer!.tileM)
  grid.inverse(at, at)
  const expected = rampColour((at[0]! - lon) / (400 * dx), (at[1]! - lat) / (300 * dy))
  const seen = tile.at(100, 75)
  for (const [k, value] of expected.entries()) expect(Math.abs(seen[k]! - value)).toBeLessThanOrEqual(2)
})

test('without a system it asks, and never guesses; a code completes it, a wrong one is refused', async () => {
  const folder = folderForTest()
  const [picture, world] = await placedPicture(folder)
  rmSync(path.join(folder, 'field.prj'))
  const survey = path.join(folder, 'nst.gpkg')
  const { files } = await importFiles(survey, [picture, world])
  expect([codes(files[0]!), files[0]!.bounds]).toEqual([['unknown-system'], null])
  const { layers, survey: open } = opened(survey)
  const [layer] = layers.list()
  expect(layer).toMatchObject({ bounds: null, epsg: null })
  await expect(layers.tile(layer!.id, { level: 0, column: 0, row: 0 }, null)).rejects.toMatchObject({
    code: 'not-found',
  })
  expect(() => layers.change(layer!.id, { epsg: 99 })).toThrow(
    expect.objectContaining({ code: 'unknown-system' }),
  )
  expect(() => layers.change(layer!.id, { epsg: 4326 })).toThrow(
    expect.objectContaining({ code: 'outside-grid' }),
  )
  expect(layers.change(layer!.id, { epsg: 27_700 })).toMatchObject({
    epsg: 27_700,
    bounds: [ground.west, ground.south, ground.west + 400, ground.south + 300],
  })
  expect(open.undo()).toBe('change of layer field.png')
  expect(open.identity().gridEpsg).toBeNull()
})

test('a wrong system is told: out of the grid, or far from everything else', async () => {
  const folder = folderForTest()
  const survey = path.join(folder, 'nst.gpkg')
  const [near] = await placedPicture(folder, 'near')
  await importFiles(survey, [near])
  const area = path.join(folder, 'area.geojson')
  const ring = [
    [0.352, 53],
    [0.353, 53],
    [0.353, 53.001],
    [0.352, 53],
  ]
  writeFileSync(area, JSON.stringify({ type: 'Polygon', coordinates: [ring] }))
  await importFiles(survey, [area])
  await placedPicture(folder, 'far', 2)
  writeFileSync(path.join(folder, 'far.pgw'), worldText(2, 300_000, 200_000))
  await placedPicture(folder, 'out', 4)
  writeFileSync(path.join(folder, 'out.pgw'), worldText(4, 5e6, 5e6))
  const { files } = await importFiles(survey, [path.join(folder, 'far.png'), path.join(folder, 'out.png')])
  expect(codes(files[0]!)).toContain('no-overlap')
  expect(files[0]!.faults.at(-1)!.text).toMatch(/^far\.png lies \d+ km from everything else/)
  expect(codes(files[1]!)).toContain('outside-grid')
  expect(files[1]!.bounds).toBeNull()
})

test('the same file again changes nothing; a moved one is known again when it is given', async () => {
  const folder = folderForTest()
  const survey = path.join(folder, 'nst.gpkg')
  const [picture] = await placedPicture(folder)
  await importFiles(survey, [picture])
  const { survey: open, layers } = opened(survey)
  const before = open.revision()
  const again = await importFile(open, 'copy.png', picture, {})
  expect([again.alreadyThere, again.added.layers, open.revision()]).toEqual([true, 0, before])
  const moved = path.join(folder, 'elsewhere', 'renamed.png')
  mkdirSync(path.dirname(moved))
  renameSync(picture, moved)
  expect(layers.list()[0]!.found).toBe(false)
  const found = await importFile(open, 'renamed.png', moved, {})
  expect([found.alreadyThere, layers.list()[0]!.found]).toEqual([true, true])
  expect(open.layers()[0]!.files[0]!.path).toBe(moved)
  expect(open.layers()[0]!.files).toHaveLength(3)
})

test('survey and picture carried elsewhere together find each other; the cache may be lost', async () => {
  const folder = folderForTest()
  const home = path.join(folder, 'home')
  mkdirSync(home)
  const survey = path.join(home, 'nst.gpkg')
  await importFiles(survey, await placedPicture(home))
  const other = path.join(folder, 'other')
  renameSync(home, other)
  rmSync(path.join(other, '.cache'), { recursive: true })
  const { layers, jobs } = opened(path.join(other, 'nst.gpkg'))
  expect(layers.list()[0]).toMatchObject({ found: true, ready: false })
  const tile = await layers.tile(1, { level: 0, column: 0, row: 0 }, null)
  expect((await pixelsOf(tile.png)).at(100, 100).at(-1)).toBe(255)
  expect(layers.list()[0]!.ready).toBe(true)
  expect(jobs.map(({ kind, state }) => [kind, state])).toEqual([
    ['layer', 'running'],
    ['layer', 'done'],
  ])
  rmSync(path.join(other, '.cache'), { recursive: true })
  expect((await pixelsOf((await layers.tile(1, { level: 0, column: 0, row: 0 }, null)).png)).channels).toBe(4)
})

test('a picture that is gone says so, and how to find it; its bytes inside serve as well', async () => {
  const folder = folderForTest()
  const survey = path.join(folder, 'nst.gpkg')
  const [picture] = await placedPicture(folder)
  await importFiles(survey, [picture])
  const { survey: open, layers } = opened(survey)
  expect(await layers.keepInside(1)).toMatchObject({ inside: true })
  expect(open.originals().map(({ name }) => name)).toEqual(['field.png', 'field.pgw', 'field.prj'])
  expect(open.check()).toEqual([])
  rmSync(picture)
  rmSync(path.join(folder, '.cache'), { recursive: true })
  expect(layers.list()[0]).toMatchObject({ found: true, inside: true })
  expect(
    (await pixelsOf((await layers.tile(1, { level: 0, column: 0, row: 0 }, null)).png)).at(9, 9).at(-1),
  ).toBe(255)
  for (let n = 0; n < 3; n++) open.undo()
  rmSync(path.join(folder, '.cache'), { recursive: true })
  expect(layers.list()[0]!.found).toBe(false)
  await expect(layers.tile(1, { level: 0, column: 0, row: 0 }, null)).rejects.toMatchObject({
    code: 'not-found',
    message: expect.stringContaining('bring it in again'),
  })
})

test('a plain photograph is shown in its own pixels, placed by points, and taken back by Undo', async () => {
  const folder = folderForTest()
  const surveyFile = emptySurvey(folder)
  const photo = path.join(folder, 'photo.jpg')
  await rampPicture(400, 300).jpeg({ quality: 100, chromaSubsampling: '4:4:4' }).toFile(photo)
  const { files } = await importFiles(surveyFile, [photo])
  expect([files[0]!.kind, codes(files[0]!)]).toEqual(['jpeg', ['missing-part']])
  const { survey, layers } = opened(surveyFile)
  expect(layers.list()[0]).toMatchObject({ bounds: null, pixelM: 1, levels: 2, ready: true })
  const picture = await pixelsOf((await layers.pictureTile(1, { level: 0, column: 0, row: 0 }, null)).png)
  for (const [k, value] of rampColour(100.5 / 400, 50.5 / 300).entries()) {
    expect(Math.abs(picture.at(100, 50)[k]! - value)).toBeLessThanOrEqual(4)
  }
  const points = [
    { column: 0, row: 0, easting: ground.west, northing: ground.south + 150 },
    { column: 400, row: 0, easting: ground.west + 200, northing: ground.south + 150 },
    { column: 400, row: 300, easting: ground.west + 200, northing: ground.south },
    { column: 0, row: 300, easting: ground.west + 0.4, northing: ground.south },
  ]
  expect(() => layers.place(1, { method: 'affine', points })).toThrow(
    expect.objectContaining({ code: 'no-track' }),
  )
  survey.setGrid(27_700)
  const { residualsM, rmsM } = layers.place(1, { method: 'affine', points })
  // Worked by hand: one corner of a rectangle moved by 0.4 leaves a quarter of that at each, and 0.2 over the two degrees of freedom's root.
  for (const residual of residualsM) expect(residual).toBeCloseTo(0.1, 9)
  expect(rmsM).toBeCloseTo(0.2 / Math.sqrt(2), 9)
  expect(layers.list()[0]).toMatchObject({ epsg: null, placedBy: 'tie-points', tiePoints: points })
  expect(layers.list()[0]!.pixelM).toBeCloseTo(0.5, 2)
  expect(layers.list()[0]!.expectedErrorM).toBeCloseTo(rmsM!, 9)
  expect(() => layers.place(1, { method: 'projective', points: points.slice(1) })).toThrow(
    expect.objectContaining({ code: 'tie-points-weak' }),
  )
  expect(survey.undo()).toBe('placing of photo.jpg')
  expect(layers.list()[0]!.bounds).toBeNull()
})

test('views that a picture cannot have, and tiles that cannot be, are refused in words', async () => {
  const folder = folderForTest()
  const survey = path.join(folder, 'nst.gpkg')
  await importFiles(survey, await placedPicture(folder))
  const { layers } = opened(survey)
  const at = { level: 0, column: 0, row: 0 }
  for (const view of [{ view: 'ndvi' }, { view: 'hillshade' }, { view: 'band', number: 9 }] as const) {
    await expect(layers.tile(1, at, view)).rejects.toMatchObject({ code: 'setting-out-of-range' })
  }
  await expect(layers.tile(1, { ...at, level: 31 }, null)).rejects.toMatchObject({ code: 'not-found' })
  await expect(layers.tile(9, at, null)).rejects.toMatchObject({ code: 'not-found' })
  expect(() => layers.change(1, { nearInfraredBand: 4 })).toThrow(
    expect.objectContaining({ code: 'setting-out-of-range' }),
  )
  const infrared = layers.change(1, { nearInfraredBand: 1 })
  expect(infrared.views).toContain('ndvi')
  expect(infrared.stamp).not.toBe((await layers.tile(2, at, null).catch(() => ({ stamp: '' }))).stamp)
  expect((await layers.tile(1, at, { view: 'ndvi' })).stamp).toBe(infrared.stamp)
  const gone = new AbortController()
  gone.abort()
  await expect(layers.tile(1, at, null, gone.signal)).rejects.toMatchObject({ code: 'cancelled' })
})

test('a removed layer leaves its file, and Undo brings it back', async () => {
  const folder = folderForTest()
  const survey = path.join(folder, 'nst.gpkg')
  const [picture] = await placedPicture(folder)
  await importFiles(survey, [picture])
  const { survey: open, layers } = opened(survey)
  layers.remove(1)
  expect([layers.list(), existsSync(picture)]).toEqual([[], true])
  expect(open.undo()).toBe('removal of layer field.png')
  expect(layers.list()).toHaveLength(1)
})

test('nothing is stored of a picture that cannot be read', async () => {
  const folder = folderForTest()
  const survey = path.join(folder, 'nst.gpkg')
  const broken = path.join(folder, 'broken.png')
  writeFileSync(broken, Buffer.concat([Buffer.from('89504e470d0a1a0a', 'hex'), Buffer.alloc(99)]))
  const named = path.join(folder, 'wide.pgw')
  writeFileSync(named, '1,5\n0\n0\n-1,5\n558000\n347000\n')
  const prj = path.join(folder, 'odd.prj')
  writeFileSync(prj, nationalGridText.replace('Transverse_Mercator', 'Unheard_Of'))
  const { files } = await importFiles(survey, [broken, named, prj])
  expect(files.map(({ kind, faults }) => [kind, faults[0]?.code, faults[0]?.line])).toEqual([
    [null, 'broken-file', null],
    [null, 'bad-value', 1],
    [null, 'unknown-system', null],
  ])
  const { survey: open } = opened(survey)
  expect(open.layers()).toEqual([])
  expect(open.undoable()).toBeNull()
})
