import { spawnSync } from 'node:child_process'
import { chmodSync, mkdirSync, readdirSync } from 'node:fs'
import { basename, join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { createSurveyFile } from '#store'
import { folderForTest, original, sampleContent, steadySurroundings } from './sample.ts'

const start = { code: 'NST', title: 'Ninestile Farm', demo: false }

/** Runs a module as a user without rights over the file; root has rights over all. */
function asNobody(code: string): { stdout: string; stderr: string } {
  const uid = process.getuid?.() === 0 ? { uid: 65_534, gid: 65_534 } : {}
  const args = ['--input-type=module', '--eval', code]
  const { stdout, stderr } = spawnSync(process.execPath, args, {
    cwd: import.meta.dirname,
    encoding: 'utf8',
    ...uid,
  })
  return { stdout, stderr }
}

const opening = (path: string, readOnly: boolean, then = '') => `
  import { openSurveyFile } from '#store'
  const around = { by: 'Ann', now: () => new Date(0), uuid: () => crypto.randomUUID() }
  try {
    const survey = openSurveyFile(${JSON.stringify(path)}, around, { readOnly: ${readOnly} })
    console.log(JSON.stringify([survey.counts().tracks, survey.check().length]))
    ${then}
    survey.close()
  } catch (error) { console.log(error.code + ': ' + error.message) }`

describe.skipIf(process.platform === 'win32')('what may not be written', () => {
  const locked = (fileMode: number, folderMode: number) => {
    const folder = folderForTest()
    chmodSync(folder, 0o755)
    const inside = join(folder, 'in')
    mkdirSync(inside)
    const survey = createSurveyFile(join(inside, 'nst.gpkg'), start, steadySurroundings())
    survey.addFile(original('walk.gpx'), sampleContent())
    survey.close()
    chmodSync(survey.path, fileMode)
    chmodSync(inside, folderMode)
    return survey.path
  }

  test.each([
    ['a read-only file', 0o444, 0o777],
    ['a read-only folder', 0o666, 0o555],
    ['both', 0o444, 0o555],
  ])('%s opens for reading only', (_, fileMode, folderMode) => {
    const path = locked(fileMode, folderMode)
    expect(asNobody(opening(path, false)).stdout).toMatch(
      /^survey-read-only: nst\.gpkg or its folder cannot be written/,
    )
    expect(asNobody(opening(path, true)).stdout).toBe('[1,0]\n')
    // In a folder that can be written SQLite leaves an empty log beside a file that cannot.
    if (folderMode === 0o555) expect(readdirSync(join(path, '..'))).toEqual([basename(path)])
    chmodSync(join(path, '..'), 0o777)
  })

  test('a file that may not even be read', () => {
    const path = locked(0o000, 0o777)
    expect(asNobody(opening(path, true)).stdout).toMatch(/^survey-missing: nst\.gpkg cannot be read/)
  })

  test('a folder that may not be written takes no new survey', () => {
    const path = locked(0o444, 0o555)
    const making = `
      import { createSurveyFile } from '#store'
      const around = { by: 'Ann', now: () => new Date(0), uuid: () => crypto.randomUUID() }
      try { createSurveyFile(${JSON.stringify(`${path}-2.gpkg`)}, ${JSON.stringify(start)}, around) }
      catch (error) { console.log(error.code) }`
    expect(asNobody(making).stdout).toBe('cannot-write\n')
    chmodSync(join(path, '..'), 0o777)
  })
})
