import { writeFileSync } from 'node:fs'
import path from 'node:path'
import sharp from 'sharp'
import { expect, onTestFinished, test } from 'vitest'
import { bearingFoundShape, planPreviewShape } from '#contract'
import { readGpx } from '#formats/gpx'
import { readWalkPack } from '#formats/walk-pack'
import { createSurveyFile } from '#store'
import { ploughed, ploughedGrid } from '../../../test/lanes/ploughed-ground.ts'
import { nationalGridText } from '../../../test/service/pictures.ts'
import { put, testFolder } from '../../../test/service/small-field.ts'
import { Desk } from '../desk.ts'
import { surroundings } from '../surroundings.ts'

const ring = (west: number, south: number, width: number, height: number): [number, number][] => [
  [west, south],
  [west + width, south],
  [west + width, south + height],
  [west, south + height],
  [west, south],
]

async function openField() {
  const folder = testFolder()
  const file = path.join(folder, 'nst.gpkg')
  createSurveyFile(file, { code: 'NST', title: 'Ninestile', demo: false }, surroundings).close()
  const desk = await Desk.open(folder, file)
  onTestFinished(() => desk.close())
  desk.startGrid(27_700)
  const area = desk.addArea({ name: 'Long Ground', polygons: [[ring(558_000, 347_000, 200, 100)]] })
  return { folder, desk, area }
}

test('a plan is previewed, kept and written for a handheld, and another has no such name', async () => {
  const { desk, area } = await openField()
  const wishes = { areaId: area.id, spacingM: 10, bearing: 90, walkers: 2 }
  const preview = await desk.plans.preview(wishes)
  expect(planPreviewShape.parse(preview)).toEqual(preview)
  // Ten lanes of 200 m fill 100 m at 10 m.
  expect([preview.figures.lanes, Math.round(preview.figures.lengthM)]).toEqual([10, 2000])
  expect(preview.lanes.map(({ walker }) => walker)).toEqual([1, 1, 1, 1, 1, 2, 2, 2, 2, 2])
  expect(preview.ways).toHaveLength(8)
  const plan = await desk.plans.keep({ name: 'Tuesday', wishes })
  expect(desk.plans.list()).toEqual([plan])
  expect([plan.lanes, plan.wishes?.spacingM, plan.figures?.lanes]).toEqual([10, 10, 10])
  for (const [i, lane] of desk.plans.lanes(plan.id).entries())
    for (const [k, metres] of lane.xy.entries()) expect(metres).toBeCloseTo(preview.lanes[i]!.xy[k]!, 1)
  desk.marks.addTarget({ name: 'Überhang am Weiher', easting: 558_050, northing: 347_050 })
  const gpx = desk.plans.handheld(plan.id, { length: 6, ascii: true })
  const content = readGpx(gpx.bytes, { fileName: gpx.fileName })
  expect(content.findspots.map(({ name }) => name)).toEqual(['Uberha'])
  expect(content.tracks.map(({ name }) => name).slice(0, 2)).toEqual(['A01', 'A02'])
  expect(new Set(content.tracks.map(({ name }) => name)).size).toBe(12)
  // Five lanes of two places each, straight across to the next: one line a walker, with nothing between to be chosen.
  expect(
    content.tracks.slice(10).map(({ segmentStart, xy }) => [segmentStart.length, xy.length / 2]),
  ).toEqual([
    [1, 10],
    [1, 10],
  ])
  expect(desk.undo().undone).toBe('making of target Überhang am Weiher')
  expect(desk.undo().undone).toBe('plan Tuesday')
  expect(desk.plans.list()).toEqual([])
  expect(() => desk.exportFile('lanes', 'gpx')).toThrow(
    expect.objectContaining({ code: 'nothing-to-export' }),
  )
})

test('lanes keep out of parts to be left alone and of hazards, over an edge too, and say what was left out', async () => {
  const { desk, area } = await openField()
  const wishes = { areaId: area.id, spacingM: 5, bearing: 90 }
  const before = await desk.plans.preview(wishes)
  const pond = desk.addArea({
    name: 'Pond',
    kind: 'no-go',
    polygons: [[ring(558_050, 347_030, 40, 40)]],
  })
  const after = await desk.plans.preview(wishes)
  expect(before.figures.areaM2 - after.figures.areaM2).toBeCloseTo(1600, 6)
  for (const { xy } of after.lanes)
    for (let i = 0; i < xy.length; i += 2)
      expect(
        xy[i]! > 558_050.01 && xy[i]! < 558_089.99 && xy[i + 1]! > 347_030.01 && xy[i + 1]! < 347_069.99,
      ).toBe(false)
  desk.changeArea(pond.id, { name: 'Pond', polygons: [[ring(558_190, 347_030, 40, 40)]] })
  const over = await desk.plans.preview({ ...wishes, keepClearM: 3 })
  // What of the pond and 3 m about it lies in the area: 13 m by 46 m, less what two corners of a circle leave.
  expect(before.figures.areaM2 - over.figures.areaM2).toBeCloseTo(13 * 46 - 2 * 9 * (1 - Math.PI / 4), 1)
  expect(over.figures.notes[0]).toBe('Left out of Long Ground: Pond and 3 m about it, 594 m².')
  expect(over.clashes).toEqual([])
  desk.changeArea(pond.id, { name: 'Quarry', kind: 'hazard', polygons: [[ring(558_190, 347_030, 40, 40)]] })
  expect((await desk.plans.preview(wishes)).figures.areaM2).toBeCloseTo(20_000 - 400, 6)
  const across = await desk.plans.preview({ ...wishes, overHazards: true })
  expect(across.figures.areaM2).toBeCloseTo(20_000, 6)
  expect(across.clashes[0]?.text).toMatch(/^Lane \d+ touches Quarry, a hazard\. \d+ more come too near\.$/)
  desk.addArea({ name: 'All of it', kind: 'no-go', polygons: [[ring(557_990, 346_990, 300, 300)]] })
  await expect(desk.plans.preview(wishes)).rejects.toMatchObject({ code: 'no-area' })
  await expect(desk.plans.preview({ ...wishes, areaId: pond.id })).rejects.toMatchObject({ code: 'no-area' })
})

test('what permissions say of the day is told, and nothing while one is open', async () => {
  const { desk, area } = await openField()
  const leave = async (day: string) =>
    (await desk.plans.preview({ areaId: area.id, spacingM: 10, day })).leave
  expect((await leave('2026-10-01'))[0]).toContain('No permission is written down for Long Ground')
  const made = desk.land.addPermission({
    name: 'Leave of the farm',
    holder: 'A. Tenant',
    polygons: [[ring(557_900, 346_900, 500, 500)]],
    startsOn: '2026-09-01',
    endsOn: '2027-02-28',
  })
  expect(await leave('2026-10-01')).toEqual([])
  expect((await leave('2027-03-01'))[0]).toContain('Leave of the farm ended on 2027-02-28')
  expect(() => desk.land.changePermission(made.id, { endsOn: '2026-08-01' })).toThrow(
    expect.objectContaining({ code: 'bad-value' }),
  )
  // A day at midsummer is long enough, the shortest one is not.
  const hours = { areaId: area.id, spacingM: 0.6 }
  expect((await desk.plans.preview({ ...hours, day: '2026-06-21' })).light.hours).toBeGreaterThan(17)
  expect((await desk.plans.preview({ ...hours, day: '2026-12-21' })).light.fits).toBe(false)
})

test('a kept plan tells of ground that was put under guard since', async () => {
  const { folder, desk, area } = await openField()
  const polygons = (west: number) => [[ring(west, 347_030, 40, 40)]]
  desk.addArea({ name: 'Pond', kind: 'no-go', polygons: polygons(558_050) })
  await desk.plans.keep({ name: 'Along', wishes: { areaId: area.id, spacingM: 5, bearing: 90 } })
  const told = () => desk.plans.list()[0]!.clashes
  // The lanes end at its edge.
  expect(told()).toEqual([])
  desk.addArea({ name: 'Nest', kind: 'no-go', polygons: polygons(558_100) })
  expect(told()).toEqual([
    expect.stringMatching(/^Lane \d+ touches Nest, ground to be left alone\. \d+ more/),
  ])
  const place = desk.place('TF 58199 47099')
  const feature = { type: 'Feature', properties: { name: 'Bell barrow' } }
  const geometry = { type: 'Point', coordinates: [place.lon, place.lat] }
  const text = JSON.stringify({ type: 'FeatureCollection', features: [{ ...feature, geometry }] })
  await desk.land.startConstraints('one.geojson', put(folder, 'one.geojson', text), {
    kind: 'scheduled monument',
    bufferM: 5,
  }).done
  expect(told()).toHaveLength(2)
  expect(told()[1]).toContain('Bell barrow')
})

test('constraints come in a file; what is too near is told, of areas, targets and lanes', async () => {
  const { folder, desk, area } = await openField()
  const far = desk.place('TF 58300 47050')
  const feature = {
    type: 'Feature',
    properties: { name: 'Bell barrow' },
    geometry: { type: 'Point', coordinates: [far.lon, far.lat] },
  }
  const text = JSON.stringify({ type: 'FeatureCollection', features: [feature] })
  const load = (name: string, bufferM: number) =>
    desk.land.startConstraints(name, put(folder, name, text), { kind: 'scheduled monument', bufferM }).done
  expect(await load('monuments.geojson', 150)).toMatchObject({ added: 1, alreadyThere: false })
  expect(await load('again.geojson', 20)).toMatchObject({ added: 0, alreadyThere: true })
  desk.marks.addTarget({ name: 'Mound', easting: 558_290, northing: 347_050 })
  const [nearest, other] = desk.land.clashes()
  expect(nearest?.text).toMatch(
    /^Mound is \d+ m from Bell barrow \(scheduled monument\); 150 m were to be kept\.$/,
  )
  expect(other).toMatchObject({ what: 'area', id: area.id })
  const { clashes } = await desk.plans.preview({ areaId: area.id, spacingM: 10 })
  expect(clashes).toHaveLength(1)
  const [set] = desk.land.constraints()
  desk.land.changeConstraints(set!.id, { bufferM: 1 })
  expect(desk.land.clashes()).toEqual([])
  desk.land.removeConstraints(set!.id)
  expect(desk.land.constraints()).toEqual([])
  const empty = put(folder, 'none.geojson', '{"type":"FeatureCollection","features":[]}')
  await expect(
    desk.land.startConstraints('none.geojson', empty, { kind: '', bufferM: 0 }).done,
  ).rejects.toMatchObject({ code: expect.stringMatching(/unknown-kind|empty-file|broken-file/) })
})

test('no export holds who gave leave or how to reach them', async () => {
  const { desk, area } = await openField()
  desk.land.addPermission({
    name: 'Leave',
    holder: 'Tenant-Secret',
    contact: 'Phone-Secret',
    areaId: area.id,
  })
  await desk.plans.keep({ name: 'Plan', wishes: { areaId: area.id, spacingM: 20 } })
  for (const what of ['areas', 'lanes'] as const)
    for (const format of ['gpx', 'kml', 'geojson', 'csv'] as const)
      expect(Buffer.from(desk.exportFile(what, format).bytes).toString()).not.toContain('Secret')
})

test('an agreement is kept inside and comes back byte for byte', async () => {
  const { folder, desk } = await openField()
  const { id } = desk.land.addPermission({ name: 'Leave' })
  const file = path.join(folder, 'scan')
  writeFileSync(file, 'signed')
  expect(desk.land.attachAgreement(id, 'leave.pdf', file, true).agreement?.inside).toBe(true)
  expect(Buffer.from(desk.land.agreement(id).bytes).toString()).toBe('signed')
  writeFileSync(file, '')
  expect(() => desk.land.attachAgreement(id, 'leave.pdf', file, true)).toThrow(
    expect.objectContaining({ code: 'empty-file' }),
  )
})

test('names that so few characters cannot tell apart are refused', async () => {
  const { desk, area } = await openField()
  const plan = await desk.plans.keep({ name: 'Many', wishes: { areaId: area.id, spacingM: 2, bearing: 90 } })
  expect(plan.lanes).toBe(50)
  expect(() => desk.plans.handheld(plan.id, { length: 1, ascii: false })).toThrow(
    expect.objectContaining({ code: 'setting-out-of-range' }),
  )
})

test('a walk pack holds the plan and what to mind, and nobody’s name; a sheet has two pages', async () => {
  const { desk, area } = await openField()
  desk.land.addPermission({
    name: 'Leave',
    holder: 'Tenant-Secret',
    contact: 'Phone-Secret',
    areaId: area.id,
  })
  desk.addArea({ name: 'Pond', kind: 'no-go', polygons: [[ring(558_190, 347_030, 40, 40)]] })
  desk.marks.addTarget({ name: 'Mound', easting: 558_050, northing: 347_050 })
  const plan = await desk.plans.keep({ name: 'Tuesday', wishes: { areaId: area.id, spacingM: 10 } })
  const made = await desk.plans.pack(plan.id)
  const pack = readWalkPack(made.bytes, made.fileName)
  expect(pack.manifest).toMatchObject({ plan: 'Tuesday', area: 'Long Ground', spacingM: 10, walkers: 1 })
  expect([pack.area.length, pack.lanes.length, pack.targets.length]).toEqual([1, plan.lanes, 1])
  expect(pack.constraints.areas.map(({ name }) => name)).toEqual(['Pond'])
  expect(JSON.stringify(pack)).not.toContain('Secret')
  const sheet = Buffer.from((await desk.plans.sheet(plan.id)).bytes).toString('latin1')
  expect(sheet.slice(0, 5)).toBe('%PDF-')
  expect([...sheet.matchAll(/\/Type \/Page\b(?!s)/g)]).toHaveLength(2)
})

test('a bearing is read from a layer, kept with its plan, and refused of a picture’s contours', async () => {
  const { folder, desk, area } = await openField()
  put(folder, 'ground.prj', nationalGridText)
  const together = ['ground.asc', 'ground.prj']
  await desk.startImport('ground.prj', path.join(folder, 'ground.prj'), together).done
  await desk.startImport('ground.asc', put(folder, 'ground.asc', ploughedGrid()), together).done
  const [layer] = desk.layers.list()
  const ask = { areaId: area.id, layerId: layer!.id }
  const plough = await desk.plans.bearing({ ...ask, by: 'plough' })
  expect(bearingFoundShape.parse(plough)).toEqual(plough)
  expect(Math.abs(plough.bearing! - ploughed.plough)).toBeLessThan(1.5)
  const contour = await desk.plans.bearing({ ...ask, by: 'contour' })
  expect(Math.abs(contour.bearing! - ploughed.contour)).toBeLessThan(2)
  expect([plough.clear, contour.clear]).toEqual([true, true])
  const bearingFrom = { by: 'plough' as const, layer: layer!.name, spreadDeg: plough.spreadDeg }
  const wishes = { areaId: area.id, spacingM: 10, bearing: plough.bearing, bearingFrom }
  const kept = await desk.plans.keep({ name: 'Along the ridges', wishes })
  expect(kept.wishes?.bearingFrom).toEqual(bearingFrom)
  const wanted = { layers: [layer!.id], sidePx: 256, marginM: 30 }
  const made = await desk.plans.pack(kept.id, wanted)
  const [picture, none] = readWalkPack(made.bytes, made.fileName).pictures
  expect(none).toBeUndefined()
  // The area begins where the layer does and is 200 m by 100 m: the layer's 1 m cells reach 30 m farther east and north.
  expect(picture).toMatchObject({ west: 558_000, north: 347_130, columns: 230, rows: 130, pixelWidthM: 1 })
  expect(picture!.corners[0]![1]).toBeGreaterThan(picture!.corners[2]![1])
  const size = picture!.bytes.length
  expect(await sharp(picture!.bytes).metadata()).toMatchObject({ format: 'jpeg', width: 230, height: 130 })
  await expect(desk.plans.pack(kept.id, { ...wanted, mostMb: 0.0005 })).rejects.toMatchObject({
    code: 'file-too-large',
  })
  const less = await desk.plans.pack(kept.id, { ...wanted, sidePx: 1024, mostMb: (0.8 * size) / 1e6 })
  const [reduced] = readWalkPack(less.bytes, 'a.zip').pictures
  expect(reduced!.bytes.length).toBeLessThanOrEqual(0.8 * size)
  expect(reduced!.columns * reduced!.pixelWidthM).toBeCloseTo(230, 6)
  await expect(desk.plans.pack(kept.id, { layers: [99] })).rejects.toMatchObject({ code: 'not-found' })
  await expect(desk.plans.bearing({ ...ask, layerId: 99, by: 'plough' })).rejects.toMatchObject({
    code: 'not-found',
  })
})
