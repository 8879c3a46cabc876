/**
 * How long a large GPX takes to read: `npm run bench gpx`, with `--points=100000` for another size and `--peers` to time
 * Python's ElementTree and GDAL on the same file in the same run (where they are installed). Seeded input of about 100
 * bytes a point; minimum and mean ± standard deviation of five runs after one to warm up.
 */
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { cpus, tmpdir } from 'node:os'
import { join } from 'node:path'
import { seededRandom, unit } from '#core/random'
import { readGpx, writeGpx } from '#formats/gpx'

const option = (name: string): string | undefined =>
  process.argv.find((word) => word.startsWith(`--${name}=`))?.split('=')[1]
const points = Number(option('points') ?? 1_000_000)
const runs = 5

/**
 * Quoted medians for 1,000,000 points in 100,000,178 bytes, two shared cores, other programs in their own processes:
 * Python 3.11.2 and GDAL 3.6.2.
 */
const quoted = [
  ['ElementTree iterparse, lat, lon, ele to arrays', 1.97],
  ['the same with times by fromisoformat', 2.26],
  ['GDAL, looping over track_points, no field read', 1.78],
  ['ogr2ogr to GeoPackage, storing included', 10.13],
] as const

/** A walk in lanes with a wandering error, one fix a second, seven decimals, a height and a time each. */
function walk(count: number, seed: number): string {
  const random = seededRandom(seed)
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" creator="bench" xmlns="http://www.topografix.com/GPX/1/1">\n<trk><name>Lanes</name><trkseg>\n',
  ]
  let lat = 52.9
  let lon = 0.3
  for (let i = 0; i < count; i++) {
    lat += (Math.floor(i / 200) % 2 === 0 ? 1 : -1) * 5e-6 + (unit(random) - 0.5) * 1e-6
    lon += (i % 200 === 199 ? 2e-5 : 0) + (unit(random) - 0.5) * 1e-6
    const time = new Date(1_700_000_000_000 + i * 1000).toISOString().replace('.000', '')
    lines.push(
      `<trkpt lat="${lat.toFixed(7)}" lon="${lon.toFixed(7)}"><ele>${(20 + unit(random)).toFixed(2)}</ele><time>${time}</time></trkpt>\n`,
    )
  }
  lines.push('</trkseg></trk>\n</gpx>\n')
  return lines.join('')
}

function timed(label: string, run: () => void): number {
  run()
  const seconds = Array.from({ length: runs }, () => {
    ;(globalThis as { gc?: () => void }).gc?.()
    const start = performance.now()
    run()
    return (performance.now() - start) / 1000
  })
  const mean = seconds.reduce((sum, each) => sum + each, 0) / runs
  const spread = Math.sqrt(seconds.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (runs - 1))
  const least = Math.min(...seconds)
  console.log(
    `${label.padEnd(52)} min ${least.toFixed(3)} s   mean ${mean.toFixed(3)} ± ${spread.toFixed(3)} s`,
  )
  return mean
}

/** Wall time of a whole foreign process, the least of three; null where the program is not there. */
function peer(command: string, words: readonly string[]): number | null {
  const times = Array.from({ length: 3 }, () => {
    const start = performance.now()
    const { status } = spawnSync(command, words, { stdio: 'ignore' })
    return status === 0 ? (performance.now() - start) / 1000 : null
  })
  return times.includes(null) ? null : Math.min(...(times as number[]))
}

const elementTree = `
import sys, array, datetime, xml.etree.ElementTree as E
a = [array.array('d') for _ in range(4)]
for _, e in E.iterparse(sys.argv[1]):
    if e.tag.endswith('}trkpt'):
        a[0].append(float(e.get('lat'))); a[1].append(float(e.get('lon'))); a[2].append(float(e[0].text))
        a[3].append(datetime.datetime.fromisoformat(e[1].text.replace('Z', '+00:00')).timestamp())
        e.clear()
assert len(a[0]) > 0`

const folder = mkdtempSync(join(tmpdir(), 'lynchet-bench-'))
try {
  const file = join(folder, 'walk.gpx')
  writeFileSync(file, walk(points, 7))
  const bytes = readFileSync(file)
  console.log(`${points} points, ${bytes.length} bytes; Node ${process.version}, ${cpus()[0]?.model}`)
  const before = process.memoryUsage().rss / 1e6
  const content = readGpx(bytes, { fileName: 'walk.gpx' })
  if (content.tracks[0]?.xy.length !== 2 * points) throw new Error('not all points were read')
  const mean = timed('readGpx, from bytes to a track', () => readGpx(bytes, { fileName: 'walk.gpx' }))
  timed('writeGpx, from a track to text', () => writeGpx(content))
  const peak = process.resourceUsage().maxRSS / 1024
  console.log(
    `  peak of the whole process ${peak.toFixed(0)} MB (${before.toFixed(0)} MB with the file loaded)`,
  )
  if (points === 1_000_000) {
    for (const [what, seconds] of quoted) {
      console.log(
        `  quoted: ${what.padEnd(48)} ${seconds.toFixed(2)} s, ${(seconds / mean).toFixed(1)} times the mean`,
      )
    }
  }
  if (process.argv.includes('--peers')) {
    const beside = [
      ['ElementTree with times (python3), whole process', 'python3', ['-c', elementTree, file]],
      [
        'ogr2ogr to GeoPackage, storing included',
        'ogr2ogr',
        ['-overwrite', join(folder, 'walk.gpkg'), file, 'track_points'],
      ],
    ] as const
    for (const [what, command, words] of beside) {
      const seconds = peer(command, words)
      console.log(
        seconds === null
          ? `  ${what}: not installed`
          : `  ${what.padEnd(56)} ${seconds.toFixed(2)} s, ${(seconds / mean).toFixed(1)} times the mean`,
      )
    }
  }
} finally {
  rmSync(folder, { recursive: true })
}
