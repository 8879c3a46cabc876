import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import * as z from 'zod'
import {
  areaViewShape,
  defaultSettings,
  errorReplyShape,
  gapViewShape,
  importedFileShape,
  jobShape,
  jobStartedShape,
  surveyListShape,
  surveyViewShape,
  trackViewShape,
  undoReplyShape,
} from '#contract'
import { SurveyError } from '#core/faults'
import { type Answered, eventually, type OpenDesk, openDesk } from './desk-client.ts'
import { madeUpCover, onePixel, somewhere } from './fake-desk.ts'

let open: OpenDesk
beforeAll(async () => {
  open = await openDesk()
})
afterAll(() => open.close())

const error = (answer: Answered): { code: string; text: string } => errorReplyShape.parse(answer.json()).error

/** One sentence a person can read: no code, no stack, no machine's words. */
function expectFault(answer: Answered, status: number, code: string): void {
  expect(answer.status).toBe(status)
  const said = error(answer)
  expect(said.code).toBe(code)
  expect(said.text).toMatch(/^[A-Z].*\.$/)
  expect(answer.headers['content-type']).toMatch(/^application\/json/)
}

describe('the survey', () => {
  test('GET /api/survey, /api/tracks, /api/gaps, /api/findspots, /api/jobs have the shapes of the contract', async () => {
    expect(surveyViewShape.parse((await open.ask('/api/survey')).json()).cover).toEqual(madeUpCover)
    expect(z.array(trackViewShape).parse((await open.ask('/api/tracks')).json())).toHaveLength(1)
    expect(z.array(gapViewShape).parse((await open.ask('/api/gaps')).json())).toHaveLength(1)
    expect((await open.ask('/api/findspots')).json()).toEqual([])
    expect(z.array(jobShape).parse((await open.ask('/api/jobs')).json())).toEqual([])
  })

  test('answers of the API are kept by no cache', async () => {
    expect((await open.ask('/api/survey')).headers['cache-control']).toBe('no-store')
  })

  test('GET /api/tracks/:id/line gives little-endian floats, gaps and signs kept', async () => {
    const { bytes, headers } = await open.ask('/api/tracks/7/line?tolerance=0.5')
    expect(headers['content-type']).toBe('application/octet-stream')
    expect(headers['content-length']).toBe('48')
    const values = Array.from({ length: 6 }, (_, i) => bytes.readDoubleLE(8 * i))
    expect(values).toEqual([560_000.25, 350_000.5, Number.NaN, Number.NaN, 0.5, -0])
  })

  test.each([
    ['/api/tracks/8/line?tolerance=1', 404, 'not-found'],
    ['/api/tracks/x/line', 400, 'bad-request'],
    ['/api/tracks/-1/line', 400, 'bad-request'],
    ['/api/tracks/7/line?tolerance=-1', 400, 'bad-request'],
    ['/api/tracks/7/line?tolerance=near', 400, 'bad-request'],
    ['/api/tracks/7/line?tolerance=1&tolerance=2', 400, 'bad-request'],
  ])('GET %s is %d %s', async (target, status, code) => expectFault(await open.ask(target), status, code))

  test('PATCH /api/settings changes what it names', async () => {
    const answer = await open.send('PATCH', '/api/settings', { swathM: 1.2, cellM: 0.25 })
    expect(answer.json()).toEqual({ ...defaultSettings, swathM: 1.2, cellM: 0.25 })
    expect((await open.send('PATCH', '/api/settings', { cellM: null })).json()).toMatchObject({
      swathM: 1.2,
      cellM: null,
    })
  })

  test.each([
    [{ swathM: 0 }, 'swathM'],
    [{ swathM: -1 }, 'swathM'],
    [{ swathM: 'wide' }, 'swathM'],
    [{ swathM: null }, 'swathM'],
    [{ width: 1 }, 'width'],
    [[], 'array'],
  ])('PATCH /api/settings with %j says what is wrong', async (patch, word) => {
    const answer = await open.send('PATCH', '/api/settings', patch)
    expectFault(answer, 400, 'setting-out-of-range')
    expect(error(answer).text).toContain(word)
  })

  test('POST /api/undo', async () => {
    const bare = await open.ask('/api/undo', { method: 'POST' })
    expect(undoReplyShape.parse(bare.json())).toEqual({ undone: null })
    const typed = { method: 'POST', headers: { 'content-type': 'application/json' } }
    expect((await open.ask('/api/undo', typed)).status).toBe(200)
  })
})

describe('search areas', () => {
  test('are added, changed and removed', async () => {
    const added = await open.send('POST', '/api/areas', { name: 'Long Ground', polygons: somewhere })
    expect(added.status).toBe(201)
    const area = areaViewShape.parse(added.json())
    const changed = await open.send('PUT', `/api/areas/${area.id}`, {
      name: 'Short Ground',
      polygons: somewhere,
    })
    expect(areaViewShape.parse(changed.json()).name).toBe('Short Ground')
    expect(z.array(areaViewShape).parse((await open.ask('/api/areas')).json())).toHaveLength(1)
    const removed = await open.ask(`/api/areas/${area.id}`, { method: 'DELETE' })
    expect([removed.status, removed.text]).toEqual([204, ''])
    expect((await open.ask('/api/areas')).json()).toEqual([])
  })

  test('that do not exist are not found', async () => {
    expectFault(await open.ask('/api/areas/99', { method: 'DELETE' }), 404, 'not-found')
    const edit = { name: 'x', polygons: somewhere }
    expectFault(await open.send('PUT', '/api/areas/99', edit), 404, 'not-found')
  })

  test.each([
    { name: '', polygons: somewhere },
    { name: 'x', polygons: [] },
    {
      name: 'x',
      polygons: [
        [
          [
            [0, 0],
            [1, 1],
          ],
        ],
      ],
    },
    {
      name: 'x',
      polygons: [
        [
          [
            [0, 0],
            [1, 1],
            [1, 0],
            [0, null],
          ],
        ],
      ],
    },
    { polygons: somewhere },
    null,
    'x',
  ])('of a wrong shape are refused: %j', async (edit) => {
    expectFault(await open.send('POST', '/api/areas', edit), 400, 'bad-request')
  })

  test('a ring of 100,000 corners goes through, one of 2,000,000 is too large', async () => {
    const ring = Array.from({ length: 100_000 }, (_, i) => [560_000.123 + i / 1000, 350_000.456])
    const large = await open.send('POST', '/api/areas', { name: 'x', polygons: [[ring]] })
    expect(large.status).toBe(201)
    await open.ask(`/api/areas/${areaViewShape.parse(large.json()).id}`, { method: 'DELETE' })
    const body = `{"name":"x","polygons":[[[${'[560000.123,350000.456],'.repeat(2_000_000)}[0,0]]]]}`
    const headers = { 'content-type': 'application/json' }
    expectFault(await open.ask('/api/areas', { method: 'POST', headers, body }), 413, 'bad-request')
  })

  test.each(['{', 'x', '{"name":"a"', '\u0000', '{"__proto__":{"name":"x"}}'])(
    'malformed JSON %j is refused',
    async (body) => {
      const headers = { 'content-type': 'application/json' }
      expectFault(await open.ask('/api/areas', { method: 'POST', headers, body }), 400, 'bad-request')
    },
  )

  test.each(['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x'])(
    'a body of type %s, which a form can send, is refused',
    async (type) => {
      const body = JSON.stringify({ name: 'x', polygons: somewhere })
      const answer = await open.ask('/api/areas', { method: 'POST', headers: { 'content-type': type }, body })
      expectFault(answer, 415, 'bad-request')
    },
  )
})

describe('cover', () => {
  test('GET a tile: a picture that may be kept for ever', async () => {
    const tile = await open.ask('/api/cover/cover-1/0/0/0.png')
    expect(tile.headers['content-type']).toBe('image/png')
    expect(tile.headers['cache-control']).toBe('private, max-age=31536000, immutable')
    expect(tile.bytes.equals(onePixel)).toBe(true)
  })

  test.each([
    ['/api/cover/cover-1/0/1/0.png', 404, 'not-found'],
    ['/api/cover/gone/0/0/0.png', 404, 'not-found'],
    ['/api/cover/cover-1/99/0/0.png', 400, 'bad-request'],
    ['/api/cover/cover-1/0/-1/0.png', 400, 'bad-request'],
    ['/api/cover/cover-1/0/0/x.png', 404, 'no-such-address'],
    ['/api/cover/cover-1/0/0/0', 404, 'no-such-address'],
    [`/api/cover/${'x'.repeat(201)}/0/0/0.png`, 404, 'no-such-address'],
  ])('GET %s is %d %s, and no cache keeps it', async (target, status, code) => {
    const answer = await open.ask(target)
    expectFault(answer, status, code)
    expect(answer.headers['cache-control']).toBe('no-store')
  })

  test('POST starts the work at once, DELETE of the job takes it back, once', async () => {
    expectFault(await open.ask('/api/cover', { method: 'POST' }), 409, 'no-area')
    await open.send('POST', '/api/areas', { name: 'x', polygons: somewhere })
    const started = await open.ask('/api/cover', { method: 'POST' })
    expect(started.status).toBe(202)
    const { job } = jobStartedShape.parse(started.json())
    const states = async (): Promise<string[]> =>
      z
        .array(jobShape)
        .parse((await open.ask('/api/jobs')).json())
        .map(({ state }) => state)
    expect(await states()).toEqual(['running'])
    expect((await open.ask(`/api/jobs/${job}`, { method: 'DELETE' })).status).toBe(204)
    expect(await states()).toEqual(['cancelled'])
    expectFault(await open.ask(`/api/jobs/${job}`, { method: 'DELETE' }), 404, 'not-found')
  })

  test('a defect in the work is told in the terminal, a fault by the job only', async () => {
    const start = async (): Promise<string> =>
      jobStartedShape.parse((await open.ask('/api/cover', { method: 'POST' })).json()).job
    const before = open.complaints.length
    open.desk.fail(await start(), new SurveyError('raster-too-large', 'The grid would have too many cells.'))
    open.desk.fail(await start(), new RangeError('a defect'))
    await eventually(() => expect(open.complaints).toHaveLength(before + 1))
    expect(open.complaints.pop()).toMatch(/^cover: RangeError: a defect/)
  })
})

describe('places', () => {
  test('a place is read by the service', async () => {
    const answer = await open.ask('/api/places?text=TF%20584%20475')
    expect(JSON.parse(answer.text)).toMatchObject({ text: 'TF 584 475', easting: 558_450 })
  })

  test('a line goes from pair to pair', async () => {
    const answer = await open.ask('/api/line?from=558000,347000&to=558003.5,347000')
    expect(JSON.parse(answer.text)).toMatchObject({ gridM: 3.5 })
  })

  test.each([
    ['/api/places', 400, 'bad-request'],
    ['/api/places?text=nowhere', 422, 'bad-coordinate'],
    ['/api/line?from=558000,347000&to=here', 400, 'bad-request'],
  ])('GET %s is %d %s', async (target, status, code) => expectFault(await open.ask(target), status, code))

  test('a survey gets its grid', async () => {
    const give = (epsg: number) => {
      const headers = { 'content-type': 'application/json' }
      return open.ask('/api/grid', { method: 'POST', headers, body: JSON.stringify({ epsg }) })
    }
    expect((await give(27_700)).status).toBe(200)
    expectFault(await give(1), 422, 'outside-grid')
  })
})

describe('export', () => {
  test('the landowner’s report comes as a PDF to keep', async () => {
    const answer = await open.ask('/api/report/landowner.pdf')
    expect(answer.headers['content-type']).toBe('application/pdf')
    expect(answer.headers['content-disposition']).toContain('nst-landowner.pdf')
    expect(answer.text).toBe('made up')
  })

  test('comes as a file to keep, under a name that leads nowhere', async () => {
    const answer = await open.ask('/api/export/gaps?as=gpx')
    expect(answer.text).toBe('made up')
    expect(answer.headers['content-type']).toBe('application/gpx+xml')
    expect(answer.headers['content-disposition']).toBe(
      `attachment; filename="NST _gaps_ _r_.gpx"; filename*=UTF-8''NST%20_gaps_%20%C3%86r%C3%B8.gpx`,
    )
  })

  test.each([
    ['/api/export/finds?as=gpx', 409, 'nothing-to-export'],
    ['/api/export/everything?as=gpx', 400, 'bad-request'],
    ['/api/export/gaps?as=exe', 400, 'bad-request'],
    ['/api/export/gaps', 400, 'bad-request'],
    ['/api/export/..%2f..%2fetc%2fpasswd?as=gpx', 400, 'bad-request'],
  ])('GET %s is %d %s', async (target, status, code) => expectFault(await open.ask(target), status, code))
})

describe('surveys', () => {
  test('are listed, made, and opened from the list', async () => {
    expect(surveyListShape.parse((await open.ask('/api/surveys')).json()).surveys).toHaveLength(2)
    const made = await open.send('POST', '/api/surveys', { code: 'NEW', title: 'A new one' })
    expect(made.status).toBe(201)
    expect(surveyViewShape.parse(made.json()).file).toBe('NEW.gpkg')
    const opened = await open.send('POST', '/api/surveys/open', { file: 'OTH.gpkg' })
    expect(surveyViewShape.parse(opened.json()).file).toBe('OTH.gpkg')
  })

  test('one that is there already is not made again', async () => {
    expectFault(await open.send('POST', '/api/surveys', { code: 'NST', title: 'x' }), 409, 'survey-exists')
  })

  test.each([{ code: 'nst', title: 'x' }, { code: '../X', title: 'x' }, { code: 'NST' }, {}])(
    'a wrong name is refused: %j',
    async (survey) => expectFault(await open.send('POST', '/api/surveys', survey), 400, 'bad-request'),
  )

  test.each(['/etc/passwd', '../OTH.gpkg', './OTH.gpkg', 'oth.gpkg', 'OTH.gpkg\u0000', '__proto__'])(
    'no file is opened that the list does not hold: %j',
    async (file) => {
      const before = surveyViewShape.parse((await open.ask('/api/survey')).json()).file
      expectFault(await open.send('POST', '/api/surveys/open', { file }), 404, 'survey-missing')
      expect(surveyViewShape.parse((await open.ask('/api/survey')).json()).file).toBe(before)
    },
  )
})

describe('errors', () => {
  test.each(['/api/nothing', '/api', '/api/survey/', '/api/SURVEY', '/nothing'])(
    'GET %s is no address',
    async (target) => {
      expectFault(await open.ask(target), 404, 'no-such-address')
    },
  )

  test('an address that cannot be decoded is refused', async () => {
    expectFault(await open.ask('/api/%E0%A4%A'), 400, 'bad-request')
  })

  test('a browser on a wrong address sees a page', async () => {
    const answer = await open.ask('/nothing', { headers: { accept: 'text/html' } })
    expect(answer.status).toBe(404)
    expect(answer.text).toContain('<h1>No such page</h1>')
  })

  test('what nobody foresaw is told plainly, with the details for the terminal only', async () => {
    const { desk, complaints } = open
    const view = desk.view
    desk.view = () => {
      throw new Error('secret detail in /home/someone')
    }
    const answer = await open.ask('/api/survey?private=1')
    desk.view = view
    expectFault(answer, 500, 'unexpected')
    expect(answer.text).not.toContain('secret')
    expect(complaints).toHaveLength(1)
    expect(complaints[0]).toMatch(/^GET \/api\/survey: Error: secret detail/)
    expect(complaints[0]).not.toContain('private')
  })

  test('the fake desk imports what the contract says', async () => {
    const answer = await open.ask('/api/import?name=a.gpx', { method: 'POST', body: 'abc' })
    expect(importedFileShape.parse(answer.json()).added.fixes).toBe(3)
  })
})
