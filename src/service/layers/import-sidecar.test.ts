import { copyFileSync, existsSync, readdirSync, renameSync } from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import type { ImportedFile } from '#contract'
import { codes, emptySurvey, opened } from '../../../test/service/open-layers.ts'
import { folderForTest, ground, placedPicture } from '../../../test/service/pictures.ts'
import { importFile, importFiles } from '../import-file.ts'
import { layersFolder } from './layer-files.ts'

test('files that lie beside the picture are used, and said to be; those of another kind are not', async () => {
  const folder = folderForTest()
  const survey = path.join(folder, 'nst.gpkg')
  const [picture] = await placedPicture(folder)
  const { files } = await importFiles(survey, [picture])
  expect(codes(files[0]!)).toEqual(['assumed', 'assumed'])
  await placedPicture(folder, 'other', 2)
  renameSync(path.join(folder, 'other.pgw'), path.join(folder, 'other.tfw'))
  const other = await importFiles(survey, [path.join(folder, 'other.png'), path.join(folder, 'other.tfw')])
  expect(codes(other.files[0]!)).toEqual(['wrong-extension', 'assumed', 'missing-part'])
  expect(codes(other.files[1]!)).toEqual(['missing-part'])
})

test('dropped on the desk: stored beside the survey once; world and .prj file wait for their picture or complete it', async () => {
  const folder = folderForTest()
  const surveyFile = emptySurvey(folder)
  const { survey, layers } = opened(surveyFile)
  const [picture, world, system] = await placedPicture(folder)
  const upload = path.join(folder, 'upload')
  const drop = async (file: string, together: string[] = []): Promise<ImportedFile> => {
    copyFileSync(file, upload)
    const reply = await importFile(survey, path.basename(file), upload, { move: true, together })
    return reply
  }
  const first = await drop(world)
  expect([first.kind, codes(first), existsSync(upload)]).toEqual(['world-file', ['missing-part'], false])
  const second = await drop(picture)
  expect([codes(second), second.bounds]).toEqual([['assumed', 'unknown-system'], null])
  const third = await drop(system)
  expect([third.faults, third.bounds?.[0]]).toEqual([[], ground.west])
  expect(layers.list()).toMatchObject([
    { found: true, bounds: [ground.west, ground.south, 558_800, 347_700] },
  ])
  const kept = readdirSync(layersFolder(surveyFile), { recursive: true }).toSorted()
  expect(kept).toEqual(['field.pgw', 'field.png', 'field.prj', 'waiting'])
  // The same again is known, and leaves nothing behind but what was there.
  expect((await drop(picture)).alreadyThere).toBe(true)
  expect(readdirSync(layersFolder(surveyFile), { recursive: true }).toSorted()).toEqual(kept)
})

test('another picture of the same name gets a name of its own, and the world file that waits for it', async () => {
  const folder = folderForTest()
  const surveyFile = emptySurvey(folder)
  const { survey } = opened(surveyFile)
  const upload = path.join(folder, 'upload')
  const drop = async (file: string): Promise<ImportedFile> => {
    copyFileSync(file, upload)
    return importFile(survey, path.basename(file), upload, { move: true, epsg: 27_700 })
  }
  for (const pixelM of [1, 2]) {
    const [picture, world] = await placedPicture(folder, 'photo', pixelM)
    await drop(world)
    expect((await drop(picture)).bounds).toEqual([ground.west, ground.south, 558_800, 347_700])
  }
  const names = readdirSync(layersFolder(surveyFile)).toSorted()
  expect(names).toEqual(['photo-2.pgw', 'photo-2.png', 'photo.pgw', 'photo.png', 'waiting'])
  expect(survey.layers().map(({ columns }) => columns)).toEqual([400, 200])
})

test('two pictures whose .prj files have the same bytes, dropped at once, each get their system', async () => {
  const folder = folderForTest()
  const { survey, layers } = opened(emptySurvey(folder))
  const upload = path.join(folder, 'upload')
  const given = [...(await placedPicture(folder, 'first', 1)), ...(await placedPicture(folder, 'second', 2))]
  const together = given.map((file) => path.basename(file))
  // In either order: pictures first, or what places them first.
  for (const file of [...given.slice(0, 3), ...given.slice(3).toReversed()]) {
    copyFileSync(file, upload)
    await importFile(survey, path.basename(file), upload, { move: true, together })
  }
  expect(layers.list().map(({ epsg, bounds }) => [epsg, bounds?.[0]])).toEqual([
    [27_700, ground.west],
    [27_700, ground.west],
  ])
})
