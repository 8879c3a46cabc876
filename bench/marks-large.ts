/**
 * A raster of 100 million pixels through `lynchet marks`, for rings, pits and lines: `npm run bench marks-large`, or for one of them `node bench/marks-large.ts KIND`. 5 x 5 scenes, drawn from five seeds, as one
 * GeoTIFF of 10,000 x 10,000 at 0.25 m. Peak memory is that of the whole process as Linux tells it (VmHWM); elsewhere it is not known.
 */
import { spawn } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { cpus, tmpdir } from 'node:os'
import path from 'node:path'
import { writeGeoTiff } from '#formats/geotiff'
import { makeScene } from './scenes/scene.ts'

const [across, side, cellM] = [5, 2000, 0.25]
const columns = across * side
const folder = mkdtempSync(path.join(tmpdir(), 'marks-large-'))
const file = path.join(folder, 'large.tif')

/** Rows of scenes, each one scene further round than the row above, so that no seam repeats. */
function writeScenes(): void {
  const scenes = Array.from({ length: across }, (_, i) => makeScene('plain', 1001 + i).raster.values)
  const cells = new Float32Array(columns * columns)
  for (let row = 0; row < columns; row++) {
    const from = (row % side) * side
    for (let n = 0; n < across; n++) {
      const scene = scenes[(n + Math.floor(row / side)) % across]!
      cells.set(scene.subarray(from, from + side), row * columns + n * side)
    }
  }
  const place = { epsg: 27_700, west: 558_000, north: 350_000, cellM, columns, rows: columns }
  writeFileSync(file, writeGeoTiff({ ...place, cells, noData: Number.NaN }))
}

/** Largest resident memory so far of a process, MB; null where the system does not tell. */
function peakOf(pid: number): number | null {
  try {
    const kilobytes = /VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]
    return kilobytes === undefined ? null : Math.round(Number(kilobytes) / 1024)
  } catch {
    return null
  }
}

async function measured(kind: string, size: string): Promise<object> {
  const words = [
    'src/lynchet.ts',
    'marks',
    file,
    '--kind',
    kind,
    kind === 'line' ? '--width' : '--diameter',
    size,
    '--tone',
    'dark',
    '--json',
  ]
  const started = performance.now()
  const child = spawn(process.execPath, words, { stdio: ['ignore', 'pipe', 'ignore'] })
  let [out, peakMB] = ['', null as number | null]
  child.stdout.on('data', (chunk: Buffer) => {
    out += chunk
  })
  const watch = setInterval(() => {
    peakMB = peakOf(child.pid ?? 0) ?? peakMB
  }, 200)
  await new Promise((resolve) => child.once('close', resolve))
  clearInterval(watch)
  const reply = JSON.parse(out) as { seconds: number; candidates: unknown[] }
  const seconds = (performance.now() - started) / 1000
  return { kind, size, candidates: reply.candidates.length, searchS: reply.seconds, seconds, peakMB }
}

try {
  writeScenes()
  console.log(
    JSON.stringify({ node: process.version, processor: cpus()[0]?.model, processors: cpus().length }),
  )
  const sizes = { ring: '4..23', pit: '1..6', line: '0.4..1.5' }
  for (const [kind, size] of Object.entries(sizes))
    if (process.argv[2] === undefined || process.argv[2] === kind)
      console.log(JSON.stringify(await measured(kind, size)))
} finally {
  rmSync(folder, { recursive: true, force: true })
}
