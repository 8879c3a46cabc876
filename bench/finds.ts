/**
 * The catalogue of finds at its full reach: 50,000 finds in one survey. Storing, listing for the desk, searching and sorting as the desk does, one edit
 * and one of them all, and every file that goes out. To reach: search under 100 ms, export under 5 s. The processor's time, mean of the rounds, is told beside
 * the clock's, since other work on the machine stretches the clock alone.
 *
 *   node bench/finds.ts
 */
import { randomUUID } from 'node:crypto'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { cpus, tmpdir } from 'node:os'
import { join } from 'node:path'
import { performance } from 'node:perf_hooks'
import type { FindList } from '#contract'
import { seededRandom, wholeBelow } from '#core/random'
import { createSurveyFile, type FindToAdd } from '#store'
import { findRows, withChanges } from '../src/desk/finds/find-rows.ts'
import { searchFinds, sortFinds } from '../src/desk/finds/find-search.ts'
import { FindsOfSurvey } from '../src/service/finds/finds-of-survey.ts'

const count = 50_000
const random = seededRandom(1)
const pick = <Value>(values: readonly Value[]): Value => values[wholeBelow(random, values.length)]!
const folder = mkdtempSync(join(tmpdir(), 'bench-finds-'))
process.on('exit', () => rmSync(folder, { recursive: true, force: true }))

const objects = [
  'buckle',
  'lead weight',
  'thimble',
  'musket ball',
  'cut halfpenny',
  'spindle whorl',
  'pot sherd',
]
const materials = ['copper alloy', 'lead', 'silver', 'iron', 'ceramic']
const finds: FindToAdd[] = Array.from({ length: count }, (_, i) => ({
  record: {
    objectType: { text: pick(objects), term: null },
    materials: [{ text: pick(materials), term: null }],
    period: { text: pick(['Roman', 'Medieval', 'Post-medieval']), term: null },
    fromYear: 1 + wholeBelow(random, 1500),
    toYear: 1600,
    weightG: 1 + wholeBelow(random, 500) / 10,
    depthCm: wholeBelow(random, 30),
    description: `frame ${i % 977}, worn`,
  },
  foundAt: {
    recorded: {
      epsg: 4326,
      name: null,
      x: 0.36 + (i % 251) * 4e-5,
      y: 53 + (i % 199) * 5e-5,
      accuracyM: 3,
      elevation: null,
      time: 1_760_000_000 + i,
      note: null,
      find: null,
      attributes: {},
    },
    planar: { epsg: 27_700, easting: 558_000 + (i % 251), northing: 347_000 + (i % 199), method: 'OSTN15' },
  },
}))

async function time(name: string, work: () => unknown, rounds = 5): Promise<void> {
  const times: number[] = []
  const before = process.cpuUsage()
  for (let round = 0; round < rounds; round++) {
    const start = performance.now()
    await work()
    times.push(performance.now() - start)
  }
  const { user, system } = process.cpuUsage(before)
  times.sort((a, b) => a - b)
  const median = times[times.length >> 1]!.toFixed(1).padStart(8)
  const cpu = ((user + system) / 1000 / rounds).toFixed(1).padStart(8)
  console.log(`${name.padEnd(32)} median ${median} ms, processor ${cpu} ms (${rounds} rounds)`)
}

console.log(`${count} finds; ${cpus()[0]?.model ?? 'unknown processor'}, Node ${process.versions.node}`)
const around = { by: 'bench', now: () => new Date(), uuid: randomUUID }
const survey = createSurveyFile(join(folder, 'a.gpkg'), { code: 'NST', title: 'bench', demo: false }, around)
await time('store all', () => survey.catalogue.add(finds, 'all'), 1)
const service = new FindsOfSurvey(survey, () => {})
await time('list, as the desk asks for it', () => service.list())
let text = ''
await time('the list as JSON', () => {
  text = JSON.stringify(service.list())
})
console.log(`${''.padEnd(46)}        ${(text.length / 1e6).toFixed(1).padStart(8)} MB`)
let rows = findRows(JSON.parse(text) as FindList)
await time('read in the page', () => {
  rows = findRows(JSON.parse(text) as FindList)
})
await time('first search of a list', () => searchFinds(rows, 'buckle 97'), 1)
await time('each search after', () => searchFinds(rows, 'buckle lead fr'))
await time('sort by number', () => sortFinds(rows, { column: 'number', descending: true }))
await time('sort by object', () => sortFinds(rows, { column: 'object', descending: false }))
await time('one find whole', () => service.one(25_000))
let weight = 1
await time('one edit', () => service.change(25_000, { record: { weightG: weight++ } }))
const { at } = service.list()
service.change(25_000, { record: { weightG: weight++ } })
await time('the list after it: what changed', () => {
  rows = withChanges(rows, JSON.parse(JSON.stringify(service.list(at))) as FindList)
})
const ids = Array.from({ length: count }, (_, i) => i + 1)
await time('one change of all', () => service.changeMany({ ids, record: { whereNow: 'box 4' } }), 1)
await time('numbers and their gaps', () => service.numbers(), 3)
for (const as of ['csv', 'xlsx', 'geojson', 'gpkg', 'jsonld'] as const) {
  await time(`written as ${as}`, () => service.export({ as }), 1)
}
const { bytes } = await service.export({ as: 'csv' })
writeFileSync(join(folder, 'a.csv'), bytes)
await time(
  'the CSV read back: dry run',
  () => service.table('a.csv', join(folder, 'a.csv'), { write: false }),
  1,
)
survey.close()
