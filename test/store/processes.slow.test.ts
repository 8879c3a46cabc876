import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { DatabaseSync } from 'node:sqlite'
import { describe, expect, onTestFinished, test } from 'vitest'
import { openSurveyFile } from '#store'
import { newSurvey, noContent, original, sampleContent, steadySurroundings } from './sample.ts'

/** Another Node process that runs `body` with an open survey; it prints a line for each import that is on disk. */
function inAnotherProcess(path: string, body: string): ChildProcess {
  const code = `
    import { createHash, randomUUID } from 'node:crypto'
    import { writeSync } from 'node:fs'
    import { openSurveyFile } from '#store'
    const survey = openSurveyFile(${JSON.stringify(path)}, { by: 'Ben', now: () => new Date(), uuid: randomUUID })
    const find = { number: null, object: 'button', material: null, period: null, count: 1, weightG: null, depthM: null }
    const spot = { epsg: 4326, name: null, x: 0.35, y: 53, accuracyM: null, elevation: null, time: 1.7e9, note: null, find, attributes: {} }
    function add(name, fixes, finds) {
      const bytes = Buffer.alloc(200_000, name)
      const recorded = { epsg: 4326, name, walked: true, xy: new Float64Array(fixes * 2).fill(50), segmentStart: Uint32Array.of(0),
        time: null, elevation: null, hdop: null, extras: [], attributes: {} }
      const sha256 = createHash('sha256').update(bytes).digest('hex')
      const findspots = Array.from({ length: finds }, () => ({ recorded: spot, planar: null }))
      survey.addFile({ name, kind: 'gpx', bytes, sha256 }, { areas: [], tracks: [{ recorded, given: null }], findspots })
      writeSync(1, name + '\\n')
    }
    ${body}`
  const child = spawn(process.execPath, ['--input-type=module', '--eval', code], { cwd: import.meta.dirname })
  onTestFinished(() => {
    child.kill('SIGKILL')
  })
  return child
}

async function linesOf(child: ChildProcess): Promise<string[]> {
  let text = ''
  let faults = ''
  child.stdout?.on('data', (data) => {
    text += data
  })
  child.stderr?.on('data', (data) => {
    faults += data
  })
  await once(child, 'close')
  expect(faults).toBe('')
  return text.trim().split('\n').filter(Boolean)
}

/** Small steps of a fixed sequence, so that kills fall at many moments of an import. */
function delays(count: number): number[] {
  let seed = 7
  return Array.from({ length: count }, () => {
    seed = (seed * 16_807) % 2_147_483_647
    return 20 + (seed % 180)
  })
}

describe('a process killed in the middle of imports', () => {
  test('loses nothing that was acknowledged and leaves nothing half-written', async () => {
    const survey = newSurvey()
    survey.close()
    let names = new Set<string>()
    for (const [round, delay] of delays(12).entries()) {
      const child = inAnotherProcess(
        survey.path,
        `for (let i = 0; ; i++) add('${round}-' + i + '.gpx', 20_000, 3)`,
      )
      const lines = linesOf(child)
      await once(child.stdout!, 'data')
      await new Promise((resolve) => setTimeout(resolve, delay))
      child.kill('SIGKILL')
      const acknowledged = await lines
      const after = openSurveyFile(survey.path, steadySurroundings())
      const stored = after.originals().map((file) => file.name)
      for (const name of [...names, ...acknowledged]) expect(stored).toContain(name)
      // At most one more than was acknowledged: killed between the commit and the line.
      expect(stored.length).toBeLessThanOrEqual(names.size + acknowledged.length + 1)
      names = new Set(stored)
      const n = stored.length
      expect(after.counts()).toEqual({
        areas: 0,
        tracks: n,
        fixes: n * 20_000,
        findspots: n * 3,
        finds: n * 3,
      })
      expect(after.check()).toEqual([])
      after.close()
    }
    expect(names.size).toBeGreaterThan(12)
  })
})

describe('two processes writing at once', () => {
  test('both get all their imports in, and no find number is given twice', async () => {
    const survey = newSurvey()
    const body = (who: string) =>
      `for (let i = 0; i < 20; i++) add('${who}' + i + '.gpx', 1000, 2); survey.close()`
    const others = ['a', 'b'].map((who) => linesOf(inAnotherProcess(survey.path, body(who))))
    for (let i = 0; i < 5; i++) {
      survey.addFile(original(`c${i}.gpx`), { ...sampleContent(), tracks: [] })
      await new Promise((resolve) => setTimeout(resolve, 20))
    }
    expect((await Promise.all(others)).map((lines) => lines.length)).toEqual([20, 20])
    expect(survey.counts()).toMatchObject({ tracks: 40, fixes: 40_000, findspots: 90, finds: 85 })
    const numbers = survey.finds().map((find) => find.number)
    expect(new Set(numbers).size).toBe(85)
    expect(numbers.toSorted()).toEqual(
      Array.from({ length: 85 }, (_, i) => `NST-2023-${String(i + 1).padStart(3, '0')}`),
    )
    expect(survey.check()).toEqual([])
  })

  test('finds entered by hand, labels and imports of three at once bear numbers of their own', async () => {
    const survey = newSurvey()
    const body = `
      for (let i = 0; i < 25; i++) {
        survey.catalogue.add([{ record: {}, foundAt: null }, { record: {}, foundAt: null }], 'entry')
        writeSync(1, survey.catalogue.reserve(new Date().getUTCFullYear(), 1, null)[0] + '\\n')
      }
      survey.close()`
    const others = ['a', 'b'].map(() => linesOf(inAnotherProcess(survey.path, body)))
    for (let i = 0; i < 5; i++) {
      survey.addFile(original(`c${i}.gpx`), { ...sampleContent(), tracks: [] })
      await new Promise((resolve) => setTimeout(resolve, 20))
    }
    const labels = (await Promise.all(others)).flat()
    const numbers = [...labels, ...survey.catalogue.all().map(({ record }) => record.number)]
    expect(numbers).toHaveLength(50 + 100 + 5)
    expect(new Set(numbers).size).toBe(numbers.length)
    expect(survey.check()).toEqual([])
  })

  test('the same file from both comes in once', async () => {
    const survey = newSurvey()
    const body = `for (let i = 0; i < 10; i++) add(i + '.gpx', 1000, 1); survey.close()`
    await Promise.all([0, 1].map(() => linesOf(inAnotherProcess(survey.path, body))))
    expect(survey.counts()).toMatchObject({ tracks: 10, finds: 10 })
    expect(survey.check()).toEqual([])
  })

  test('changes of another process raise the revision here, and can be undone here', async () => {
    const survey = newSurvey()
    const revision = survey.revision()
    await linesOf(inAnotherProcess(survey.path, "add('theirs.gpx', 10, 1); survey.close()"))
    expect(survey.revision()).toBe(revision + 1)
    expect(survey.undo()).toBe('import of theirs.gpx')
    expect(survey.counts()).toMatchObject({ tracks: 0, findspots: 0, finds: 0 })
  })
})

describe('a survey that another program holds locked', () => {
  test('is waited for, and then the fault says so; reading goes on', () => {
    const survey = newSurvey()
    const other = new DatabaseSync(survey.path)
    other.exec('BEGIN IMMEDIATE')
    const start = performance.now()
    expect(() => survey.addFile(original('walk.gpx'), noContent)).toThrow(
      expect.objectContaining({
        code: 'survey-locked',
        message: expect.stringContaining('nst.gpkg locked for five seconds'),
      }),
    )
    expect(performance.now() - start).toBeGreaterThan(4500)
    expect(survey.counts().tracks).toBe(0)
    const reader = openSurveyFile(survey.path, steadySurroundings())
    expect(reader.identity().code).toBe('NST')
    reader.close()
    other.exec('ROLLBACK')
    other.close()
    expect(survey.addFile(original('walk.gpx'), noContent).alreadyThere).toBe(false)
  })

  test('cannot even be opened while it is held whole', () => {
    const survey = newSurvey()
    survey.close()
    const other = new DatabaseSync(survey.path)
    other.exec('PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE')
    expect(() => openSurveyFile(survey.path, steadySurroundings())).toThrow(
      expect.objectContaining({ code: 'survey-locked' }),
    )
    other.close()
    const again = openSurveyFile(survey.path, steadySurroundings())
    expect(again.check()).toEqual([])
    again.close()
  })
})
