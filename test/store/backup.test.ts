import { existsSync, readdirSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { DatabaseSync } from 'node:sqlite'
import { describe, expect, test } from 'vitest'
import { backupName, openSurveyFile, rotateBackups } from '#store'
import { folderForTest, newSurvey, original, sampleContent, steadySurroundings, userRows } from './sample.ts'

describe('a backup', () => {
  test('is the whole survey in one file, made while the survey is open', async () => {
    const survey = newSurvey()
    survey.addFile(original('walk.gpx'), sampleContent())
    const path = join(dirname(survey.path), backupName(survey.path, new Date(Date.UTC(2026, 2, 14, 10, 15))))
    await survey.backup(path)
    expect(readdirSync(dirname(path)).toSorted()).toEqual([
      'nst.20260314T101500Z.backup.gpkg',
      'nst.gpkg',
      'nst.gpkg-shm',
      'nst.gpkg-wal',
    ])
    const db = new DatabaseSync(path)
    expect(db.prepare('PRAGMA journal_mode').get()).toEqual({ journal_mode: 'delete' })
    db.close()
    expect(userRows(path)).toEqual(userRows(survey.path))
    const copy = openSurveyFile(path, steadySurroundings())
    expect(copy.check()).toEqual([])
    expect(copy.addFile(original('walk.gpx'), sampleContent()).alreadyThere).toBe(true)
    copy.close()
  })

  test('holds one moment, though writing goes on', async () => {
    const survey = newSurvey()
    for (let i = 0; i < 20; i++)
      survey.addFile({ ...original(`${i}.gpx`), bytes: new Uint8Array(200_000) }, sampleContent())
    const path = join(dirname(survey.path), 'copy.gpkg')
    const done = survey.backup(path)
    for (let i = 20; i < 25; i++) {
      survey.addFile(original(`${i}.gpx`), sampleContent())
      await new Promise((resolve) => setImmediate(resolve))
    }
    await done
    const copy = openSurveyFile(path, steadySurroundings(), { readOnly: true })
    const { tracks, findspots } = copy.counts()
    expect(tracks).toBeGreaterThanOrEqual(20)
    expect(findspots).toBe(tracks * 2)
    expect(copy.check().filter((problem) => problem.code !== 'original')).toEqual([])
    copy.close()
  })

  test('overwrites nothing, and leaves nothing where it cannot be written', async () => {
    const survey = newSurvey()
    const path = join(dirname(survey.path), 'copy.gpkg')
    writeFileSync(path, 'mine')
    await expect(survey.backup(path)).rejects.toMatchObject({ code: 'survey-exists' })
    const nowhere = join(dirname(survey.path), 'no', 'copy.gpkg')
    await expect(survey.backup(nowhere)).rejects.toMatchObject({ code: 'cannot-write' })
    expect(existsSync(dirname(nowhere))).toBe(false)
  })
})

test('rotation keeps the newest of each survey and touches nothing else', () => {
  const folder = folderForTest()
  const day = (n: number) => new Date(Date.UTC(2026, 2, n))
  const names = [1, 2, 3, 4].flatMap((n) => [
    backupName('/a/nst.gpkg', day(n)),
    backupName('/b/old.gpkg', day(n)),
  ])
  for (const name of [...names, 'nst.gpkg', 'notes.txt', 'nst.backup.gpkg'])
    writeFileSync(join(folder, name), '')
  const removed = rotateBackups(folder, 3)
  expect(removed.toSorted()).toEqual(['nst.20260301T000000Z.backup.gpkg', 'old.20260301T000000Z.backup.gpkg'])
  expect(readdirSync(folder)).toHaveLength(9)
  expect(rotateBackups(folder, 3)).toEqual([])
  expect(rotateBackups(join(folder, 'none'), 3)).toEqual([])
  expect(() => rotateBackups(folder, 0)).toThrow(RangeError)
})
