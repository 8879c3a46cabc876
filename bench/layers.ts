/**
 * How long until a large picture is seen: `npm run bench layers`, with `--side=20000` for another size, `--keep=FOLDER` to keep the pictures. Generated,
 * seeded; one run each, since each reads another file. Memory is that of this process and the one that decodes, together (Linux).
 */
import {
  closeSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from 'node:fs'
import { cpus, tmpdir } from 'node:os'
import path from 'node:path'
import sharp, { type Sharp } from 'sharp'
import type { Job } from '#contract'
import { createSurveyFile, openSurveyFile } from '#store'
import { importFile } from '../src/service/import-file.ts'
import { Jobs } from '../src/service/jobs.ts'
import { LayersOfSurvey } from '../src/service/layers/layers-of-survey.ts'
import { surroundings } from '../src/service/surroundings.ts'
import { plainTiff } from '../test/service/plain-tiff.ts'

const option = (name: string): string | undefined =>
  process.argv.find((word) => word.startsWith(`--${name}=`))?.split('=')[1]
const side = Number(option('side') ?? 20_000)
const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-bench-'))

/** Bytes in memory of this process and its children now. */
function resident(): number {
  const own = process.memoryUsage.rss()
  try {
    const children = readdirSync('/proc/self/task').flatMap((task) =>
      readFileSync(`/proc/self/task/${task}/children`, 'utf8').split(' ').filter(Boolean),
    )
    return children.reduce((sum, pid) => {
      const pages = Number(readFileSync(`/proc/${pid}/statm`, 'utf8').split(' ')[1])
      return sum + pages * 4096
    }, own)
  } catch {
    return own
  }
}

interface Seen {
  readonly firstS: number
  readonly wholeS: number
  /** Until it is first seen, and until it is whole; what this process held before left out. */
  readonly firstMB: number
  readonly wholeMB: number
}

/** From the file being given until the first tile of it is there, and until its whole detail is. */
async function seen(file: string): Promise<Seen> {
  const home = mkdtempSync(path.join(folder, 'survey-'))
  const survey = path.join(home, 'bench.gpkg')
  createSurveyFile(survey, { code: 'BEN', title: 'bench', demo: false }, surroundings).close()
  const open = openSurveyFile(survey, surroundings)
  const before = resident()
  let peak = 0
  const look = setInterval(() => {
    peak = Math.max(peak, resident())
  }, 20)
  let count = 0
  const ends: (() => void)[] = []
  const jobs = new Jobs(
    () => `${++count}`,
    (job: Job) => {
      if (job.state !== 'running') for (const end of ends.splice(0)) end()
    },
  )
  const layers = new LayersOfSurvey(open, {
    start: (kind, label, work) => jobs.start(kind, label, work),
    changed: () => {},
    better: () => {},
  })
  const start = performance.now()
  const reply = await importFile(open, path.basename(file), file, { epsg: 27_700, cache: layers.cache })
  if (reply.bounds === null) throw new Error(`not placed: ${JSON.stringify(reply.faults)}`)
  const [layer] = layers.list()
  await layers.tile(layer!.id, { level: layer!.levels - 1, column: 0, row: 0 }, null)
  const firstS = (performance.now() - start) / 1000
  const firstMB = (peak - before) / 1e6
  await new Promise<void>((resolve) => {
    if (jobs.list().every(({ state }) => state !== 'running')) resolve()
    else ends.push(resolve)
  })
  const wholeS = (performance.now() - start) / 1000
  const wholeMB = (peak - before) / 1e6
  const times = 40
  const began = performance.now()
  for (let i = 0; i < times; i++) {
    await layers.tile(layer!.id, { level: 0, column: 10 + i, row: 30 }, null)
  }
  console.log(
    `  then ${((performance.now() - began) / times).toFixed(1)} ms a tile of the finest level, one after another`,
  )
  clearInterval(look)
  jobs.cancelAll()
  open.close()
  rmSync(home, { recursive: true })
  return { firstS, wholeS, firstMB, wholeMB }
}

function placed(name: string): string {
  const file = path.join(folder, name)
  const world = `${name.slice(0, name.lastIndexOf('.'))}.wld`
  const text = [0.05, 0, 0, -0.05, 558_000, 348_000].join('\n')
  writeFileSync(path.join(folder, world), text)
  return file
}

try {
  console.log(
    `pictures of ${side} x ${side} pixels; Node ${process.version}, ${cpus().length} x ${cpus()[0]?.model}`,
  )
  const tiff = placed('plain.tif')
  const fd = openSync(tiff, 'w')
  for (const part of plainTiff(side, side)) writeSync(fd, part)
  closeSync(fd)
  const from = (): Sharp => sharp(tiff, { limitInputPixels: false, sequentialRead: true })
  const made: [string, (file: string) => Promise<unknown>][] = [
    ['plain.tif', async () => {}],
    ['picture.jpg', (file) => from().jpeg({ quality: 85 }).toFile(file)],
    ['picture.png', (file) => from().png({ compressionLevel: 3 }).toFile(file)],
    ['packed.tif', (file) => from().tiff({ compression: 'lzw', predictor: 'horizontal' }).toFile(file)],
  ]
  for (const [name, make] of made) {
    const file = placed(name)
    await make(file)
    const { firstS, wholeS, firstMB, wholeMB } = await seen(file)
    const megabytes = statSync(file).size / 1e6
    console.log(
      `${name.padEnd(12)} ${megabytes.toFixed(0).padStart(5)} MB   first seen ${firstS.toFixed(2)} s, ${firstMB.toFixed(0)} MB   whole ${wholeS.toFixed(2)} s, ${wholeMB.toFixed(0)} MB`,
    )
    rmSync(file)
    if (name === 'plain.tif') {
      const again = openSync(tiff, 'w')
      for (const part of plainTiff(side, side)) writeSync(again, part)
      closeSync(again)
    }
  }
} finally {
  rmSync(folder, { recursive: true, force: true })
}
