import { copyFileSync, readdirSync, statSync } from 'node:fs'
import path from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import type { DeskEvent } from '#service'
import { emptySurvey } from '../../../test/service/open-layers.ts'
import { folderForTest, ground, placedPicture, rampPicture } from '../../../test/service/pictures.ts'
import { Desk } from '../desk.ts'
import { layersFolder } from './layer-files.ts'

async function openDesk(folder: string) {
  const desk = await Desk.open(folder, emptySurvey(folder))
  const events: DeskEvent[] = []
  desk.onEvent((event) => events.push(event))
  onTestFinished(() => desk.close())
  /** Gives a copy of a file to the desk, as an upload. */
  const drop = (file: string, together: string[] = []) => {
    const upload = path.join(folder, 'upload')
    copyFileSync(file, upload)
    return desk.startImport(path.basename(file), upload, together).done
  }
  return { desk, events, drop }
}

const jobsOf = (events: readonly DeskEvent[], kind: string): string[] =>
  events.flatMap((event) => (event.type === 'job' && event.job.kind === kind ? [event.job.state] : []))

test('a picture dropped on the desk is seen at once and whole a little later, and both are told', async () => {
  const folder = folderForTest()
  const { desk, events, drop } = await openDesk(folder)
  const files = await placedPicture(folder, 'large', 0.1)
  for (const file of files.toReversed())
    await drop(
      file,
      files.map((each) => path.basename(each)),
    )
  const [layer] = desk.layers.list()
  expect(layer).toMatchObject({ name: 'large.png', columns: 4000, ready: true, found: true })
  expect(desk.view().bounds).toEqual([ground.west, ground.south, ground.west + 400, ground.south + 300])
  const overview = await desk.layers.tile(layer!.id, { level: 0, column: 3, row: 3 }, null)
  await expect.poll(() => jobsOf(events, 'layer').at(-1), { timeout: 20_000 }).toBe('done')
  const whole = desk.layers.list()[0]!
  expect(whole.stamp).not.toBe(layer!.stamp)
  const tile = await desk.layers.tile(layer!.id, { level: 0, column: 3, row: 3 }, null)
  expect([overview.whole, tile.whole, tile.stamp]).toEqual([false, true, whole.stamp])
  expect(events.at(-1)).toMatchObject({ type: 'survey' })
  expect(readdirSync(layersFolder(path.join(folder, 'nst.gpkg'))).toSorted()).toEqual([
    'large.pgw',
    'large.png',
    'large.prj',
    'waiting',
  ])
})

test('changes of layers are told, and another survey has others', async () => {
  const folder = folderForTest()
  const { desk, events, drop } = await openDesk(folder)
  const photo = path.join(folder, 'photo.jpg')
  await rampPicture(100, 80).jpeg().toFile(photo)
  await drop(photo)
  const told = (): number => events.filter(({ type }) => type === 'survey').length
  const before = told()
  desk.layers.change(1, { name: 'July', takenOn: '2026-07-02' })
  expect([told(), desk.layers.list()[0]]).toMatchObject([before + 1, { name: 'July', takenOn: '2026-07-02' }])
  expect(desk.undo().undone).toBe('change of layer photo.jpg')
  await desk.layers.keepInside(1)
  desk.layers.remove(1)
  expect(told()).toBe(before + 4)
  desk.newSurvey({ code: 'OTH', title: 'Other' })
  expect(desk.layers.list()).toEqual([])
})

test('a cancelled import leaves nothing', async () => {
  const folder = folderForTest()
  const { desk } = await openDesk(folder)
  const [picture] = await placedPicture(folder, 'large', 0.05)
  const { job, done } = desk.startImport('large.png', picture, [])
  desk.cancel(job)
  await expect(done).rejects.toMatchObject({ code: 'cancelled' })
  expect([desk.layers.list(), statSync(picture).isFile()]).toEqual([[], true])
  const cache = path.join(folder, '.cache')
  expect(readdirSync(cache).filter((name) => name !== 'CACHEDIR.TAG')).toEqual([])
})
