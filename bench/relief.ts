/**
 * How long views of a terrain take, memory to memory: `npm run bench relief`, with `--side=2000` for another size and `--peers` to time GDAL and
 * OpenCV (Python of Debian) and SAGA (its command) on the same heights in the same run, where installed. Seeded heights; minimum and mean ± standard deviation of
 * five runs after one to warm up; the peers likewise. SAGA is timed as a whole process, less the time of one that only reads and writes the same heights.
 */
import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { cpus, tmpdir } from 'node:os'
import path from 'node:path'
import { seededRandom, unit } from '#core/random'
import { greyRows, isGreyView, measuredRows, type ReliefView, type Terrain } from '#core/relief'
import { ReliefThreads, sharedFloats } from '../src/work/relief-threads.ts'

const option = (name: string): string | undefined =>
  process.argv.find((word) => word.startsWith(`--${name}=`))?.split('=')[1]
const side = Number(option('side') ?? 4000)
const skySide = 1000
const runs = 5
const threads = cpus().length

/** Rolling ground with a bank, a ditch and roughness of a few centimetres, cells of 1 m. */
function ground(cells: number): Terrain {
  const random = seededRandom(20261125)
  const values = sharedFloats(cells * cells)
  for (let r = 0, p = 0; r < cells; r++) {
    for (let c = 0; c < cells; c++, p++) {
      values[p] =
        20 +
        6 * Math.sin(c / 190) +
        4 * Math.cos(r / 130) +
        Math.exp(-(((c - r) / 4) ** 2)) +
        0.05 * unit(random)
    }
  }
  return { columns: cells, rows: cells, cellX: 1, cellY: 1, values }
}

interface Timing {
  readonly least: number
  readonly mean: number
}

async function timed(label: string, run: () => unknown): Promise<Timing> {
  await run()
  const seconds: number[] = []
  for (let k = 0; k < runs; k++) {
    ;(globalThis as { gc?: () => void }).gc?.()
    const start = performance.now()
    await run()
    seconds.push((performance.now() - start) / 1000)
  }
  const mean = seconds.reduce((sum, each) => sum + each, 0) / runs
  const spread = Math.sqrt(seconds.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (runs - 1))
  const least = Math.min(...seconds)
  console.log(
    `${label.padEnd(58)} min ${least.toFixed(3)} s   mean ${mean.toFixed(3)} ± ${spread.toFixed(3)} s`,
  )
  return { least, mean }
}

const edges = 'fill'
const light = { altitudeDeg: 45, zFactor: 1, edges } as const
const large = {
  hillshade: { view: 'hillshade', azimuthDeg: 315, ...light },
  'multi-hillshade': { view: 'multi-hillshade', ...light },
  slope: { view: 'slope', unit: 'degrees', zFactor: 1, edges },
  'local relief, box 41': { view: 'local-relief', shape: 'box', radiusM: 20, edges },
  'local relief, bell cut at 20 cells': { view: 'local-relief', shape: 'gaussian', radiusM: 10, edges },
} as const satisfies Record<string, ReliefView>
const sky = { view: 'sky-view', radiusM: 10, directions: 16, zFactor: 1, edges } as const

function onOneThread(terrain: Terrain, view: ReliefView): void {
  const { columns, rows } = terrain
  if (isGreyView(view)) greyRows(terrain, view, new Uint8Array(columns * rows), 0, rows)
  else measuredRows(terrain, view, new Float32Array(columns * rows), 0, rows)
}

const peers = `
import json, sys, time
import numpy as np
side, runs = int(sys.argv[2]), int(sys.argv[3])
z = np.fromfile(sys.argv[1], dtype='<f4').reshape(side, side)
out = {}
def timed(name, run):
    run()
    times = []
    for _ in range(runs):
        start = time.perf_counter(); run(); times.append(time.perf_counter() - start)
    out[name] = dict(least=min(times), mean=sum(times) / runs)
try:
    from osgeo import gdal
    raster = gdal.GetDriverByName('MEM').Create('', side, side, 1, gdal.GDT_Float32)
    raster.SetGeoTransform([0, 1, 0, side, 0, -1]); raster.GetRasterBand(1).WriteArray(z)
    dem = lambda mode, **o: (lambda: gdal.DEMProcessing('', raster, mode, format='MEM', computeEdges=True, **o))
    timed('hillshade', dem('hillshade'))
    timed('multi-hillshade', dem('hillshade', multiDirectional=True))
    timed('slope', dem('slope'))
    out['gdal'] = gdal.__version__
except ImportError: pass
try:
    import cv2
    for n in (1, 2):
        cv2.setNumThreads(n)
        timed('box %d' % n, lambda: z - cv2.blur(z, (41, 41)))
    timed('bell 1', lambda: (cv2.setNumThreads(1), z - cv2.GaussianBlur(z, (41, 41), 5)))
    out['cv2'] = cv2.__version__
except ImportError: pass
print(json.dumps(out))`

type PeerTimes = Record<string, Timing | string>

function pythonPeers(folder: string, terrain: Terrain): PeerTimes {
  const file = path.join(folder, 'heights.f32')
  writeFileSync(file, new Uint8Array(terrain.values.buffer))
  const words = ['-c', peers, file, String(side), String(runs)]
  const { status, stdout } = spawnSync('/usr/bin/python3', words, { encoding: 'utf8' })
  return status === 0 ? (JSON.parse(stdout) as PeerTimes) : {}
}

/** Least wall time of three; null where the program is not there. */
function wall(command: string, words: readonly string[]): number | null {
  const times = Array.from({ length: 3 }, () => {
    const start = performance.now()
    const { status } = spawnSync(command, words, { stdio: 'ignore' })
    return status === 0 ? (performance.now() - start) / 1000 : Number.NaN
  })
  const least = Math.min(...times)
  return Number.isNaN(least) ? null : least
}

/** SAGA's sky-view net of what its program takes to start, read and write, on all cores. */
function sagaSky(folder: string, terrain: Terrain): number | null {
  const grid = path.join(folder, 'z')
  const header = [
    'NAME = z',
    'DATAFORMAT = FLOAT',
    'BYTEORDER_BIG = FALSE',
    'POSITION_XMIN = 0',
    'POSITION_YMIN = 0',
    `CELLCOUNT_X = ${terrain.columns}`,
    `CELLCOUNT_Y = ${terrain.rows}`,
    'CELLSIZE = 1',
    'NODATA_VALUE = -99999',
    'TOPTOBOTTOM = TRUE',
    'Z_FACTOR = 1',
  ]
  writeFileSync(`${grid}.sgrd`, `${header.join('\n')}\n`)
  writeFileSync(`${grid}.sdat`, new Uint8Array(terrain.values.buffer))
  const out = (name: string): string => path.join(folder, `${name}.sgrd`)
  const whole = wall('saga_cmd', [
    ...['ta_lighting', '3', '-DEM', `${grid}.sgrd`, '-SVF', out('svf'), '-VISIBLE', out('visible')],
    ...['-RADIUS', '10', '-NDIRS', '16', '-METHOD', '0'],
  ])
  const idle = wall('saga_cmd', ['grid_tools', '34', '-GRID', `${grid}.sgrd`, '-INVERSE', out('inverse')])
  console.log(`  SAGA: whole ${whole?.toFixed(2)} s, starting, reading and writing ${idle?.toFixed(2)} s`)
  return whole === null ? null : whole - (idle ?? 0)
}

const times = (theirs: number, ours: Timing): string => `${(theirs / ours.least).toFixed(1)} times ours`

const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-bench-'))
const pool = new ReliefThreads(threads)
try {
  console.log(`${side} x ${side} cells; Node ${process.version}, ${cpus()[0]?.model}, ${threads} threads`)
  const terrain = ground(side)
  const ours: Record<string, Timing> = {}
  for (const [name, view] of Object.entries(large)) {
    await timed(`${name}, one thread`, () => onOneThread(terrain, view))
    ours[name] = await timed(`${name}, ${threads} threads`, () => pool.view(terrain, view))
  }
  const small = ground(skySide)
  await timed(`sky-view ${skySide} x ${skySide}, 10 cells, 16 ways, one thread`, () =>
    onOneThread(small, sky),
  )
  const ourSky = await timed(`the same, ${threads} threads`, () => pool.view(small, sky))
  if (process.argv.includes('--peers')) {
    const theirs = pythonPeers(folder, terrain)
    const pairs = [
      ['hillshade', 'hillshade', `GDAL ${theirs.gdal}`],
      ['multi-hillshade', 'multi-hillshade', `GDAL ${theirs.gdal}`],
      ['slope', 'slope', `GDAL ${theirs.gdal}`],
      ['box 1', 'local relief, box 41', `OpenCV ${theirs.cv2}, 1 thread`],
      ['box 2', 'local relief, box 41', `OpenCV ${theirs.cv2}, 2 threads`],
      ['bell 1', 'local relief, bell cut at 20 cells', `OpenCV ${theirs.cv2}, 1 thread`],
    ] as const
    for (const [key, name, who] of pairs) {
      const peer = theirs[key]
      if (typeof peer !== 'object') console.log(`  ${name}: ${who} is not installed`)
      else
        console.log(
          `  ${name.padEnd(36)} ${who.padEnd(24)} min ${peer.least.toFixed(3)} s   mean ${peer.mean.toFixed(3)} s, ${times(peer.least, ours[name]!)}`,
        )
    }
    const saga = sagaSky(folder, small)
    console.log(
      saga === null
        ? '  SAGA is not installed'
        : `  sky-view: SAGA net ${saga.toFixed(2)} s, ${times(saga, ourSky)}`,
    )
  }
} finally {
  await pool.close()
  rmSync(folder, { recursive: true })
}
