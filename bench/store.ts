/**
 * How long storing takes: a track of 1,000,000 fixes, alone and with an original of 100 MB beside it, read back, and 50,000
 * findspots with a find each. Each round starts with a new survey; reading the file they came from is not counted.
 *
 *   node bench/store.ts
 */
import { randomUUID } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { cpus, tmpdir } from 'node:os'
import { join } from 'node:path'
import { performance } from 'node:perf_hooks'
import { createSurveyFile, type PlacedContent, type SurveyFile } from '#store'

const fixes = 1_000_000
const rounds = 7
const around = { by: 'bench', now: () => new Date(), uuid: randomUUID }
const folder = mkdtempSync(join(tmpdir(), 'bench-store-'))
process.on('exit', () => rmSync(folder, { recursive: true, force: true }))

const recorded = {
  epsg: 4326,
  name: 'lanes',
  walked: true,
  xy: Float64Array.from({ length: fixes * 2 }, (_, i) =>
    i % 2 ? 53 + Math.sin(i / 9999) / 1000 : 0.3 + i * 1e-8,
  ),
  segmentStart: Uint32Array.of(0, fixes / 2),
  time: Float64Array.from({ length: fixes }, (_, i) => 1_700_000_000 + i),
  elevation: new Float64Array(fixes).fill(3),
  hdop: new Float64Array(fixes).fill(0.9),
  extras: [],
  attributes: {},
}
const track: PlacedContent = { tracks: [{ recorded, given: null }], areas: [], findspots: [] }
const spots: PlacedContent = {
  tracks: [],
  areas: [],
  findspots: Array.from({ length: 50_000 }, (_, i) => ({
    recorded: {
      epsg: 4326,
      name: `spot ${i}`,
      x: 0.3 + (i % 251) * 4e-5,
      y: 53 + (i % 199) * 5e-5,
      accuracyM: 3,
      elevation: null,
      time: 1_700_000_000 + i,
      note: null,
      find: {
        number: null,
        object: 'button',
        material: 'lead',
        period: null,
        count: 1,
        weightG: 3.5,
        depthM: 0.1,
      },
      attributes: {},
    },
    planar: { epsg: 27_700, easting: 560_000 + i, northing: 340_000, method: 'OSTN15' },
  })),
}

function time(name: string, prepare: (survey: SurveyFile) => void, work: (survey: SurveyFile) => void): void {
  const times = Array.from({ length: rounds + 1 }, (_, round) => {
    const path = join(folder, `${name.replace(/\W/g, '-')}-${round}.gpkg`)
    const survey = createSurveyFile(path, { code: 'NST', title: name, demo: false }, around)
    prepare(survey)
    const start = performance.now()
    work(survey)
    const seconds = (performance.now() - start) / 1000
    survey.close()
    rmSync(path)
    return seconds
  }).slice(1)
  const mean = times.reduce((sum, value) => sum + value, 0) / rounds
  const sd = Math.sqrt(times.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (rounds - 1))
  console.log(
    `${name.padEnd(40)} min ${Math.min(...times).toFixed(3)}  mean ${mean.toFixed(3)} ± ${sd.toFixed(3)} s`,
  )
}

function add(content: PlacedContent, bytes: number): (survey: SurveyFile) => void {
  const original = {
    name: 'a.gpx',
    kind: 'gpx',
    bytes: new Uint8Array(bytes).fill(60),
    sha256: '0'.repeat(64),
  }
  return (survey) => survey.addFile(original, content)
}

console.log(
  `${rounds} rounds after one to warm up; ${cpus()[0]?.model ?? 'unknown processor'}, Node ${process.versions.node}`,
)
time('store 1,000,000 fixes', () => {}, add(track, 1))
time('the same with an original of 100 MB', () => {}, add(track, 100_000_000))
time('read 1,000,000 fixes', add(track, 1), (survey) => survey.track(1))
time('store 50,000 findspots with finds', () => {}, add(spots, 1))
time('read 50,000 findspots with finds', add(spots, 1), (survey) => survey.findspots())
