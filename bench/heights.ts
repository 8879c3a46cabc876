/**
 * How long until a terrain model is ready at every scale: `npm run bench heights`, with `--side=20000` for another size of the GeoTIFFs. Generated, seeded. Beside it GDAL
 * where it is installed: gdal_translate to a tiled GeoTIFF and gdaladdo with means, which is the same work. Three runs each, the shortest counts.
 */
import { spawnSync } from 'node:child_process'
import { closeSync, mkdtempSync, openSync, readFileSync, rmSync, statSync, writeSync } from 'node:fs'
import { cpus, tmpdir } from 'node:os'
import path from 'node:path'
import { seededRandom, unit } from '#core/random'
import { AscReader } from '#formats/asc'
import { writeGeoTiff } from '#formats/geotiff'
import { heightsInProcess } from '#work'

const option = (name: string): string | undefined =>
  process.argv.find((word) => word.startsWith(`--${name}=`))?.split('=')[1]
const side = Number(option('side') ?? 6000)
const gridSide = 4000
const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-bench-'))
const at = (name: string): string => path.join(folder, name)

async function shortest(work: () => unknown): Promise<number> {
  let best = Infinity
  for (let run = 0; run < 3; run++) {
    const start = performance.now()
    await work()
    best = Math.min(best, (performance.now() - start) / 1000)
  }
  return best
}

const answers = (command: string): boolean => spawnSync(command, ['--version']).status === 0
const gdal = answers('gdal_translate')
const run = (command: string, ...words: string[]): void => {
  const { status, stderr } = spawnSync(command, words)
  if (status !== 0) throw new Error(`${command}: ${stderr}`)
}

/** What GDAL does for the same end. */
function peer(file: string): void {
  rmSync(at('peer.tif'), { force: true })
  run('gdal_translate', '-q', '-co', 'TILED=YES', '-co', 'BIGTIFF=YES', file, at('peer.tif'))
  run('gdaladdo', '-q', '-r', 'average', at('peer.tif'))
}

function writeGrid(file: string): void {
  const random = seededRandom(1)
  const row = Array.from({ length: gridSide }, () => (20 + 80 * unit(random)).toFixed(2)).join(' ')
  const fd = openSync(file, 'w')
  writeSync(
    fd,
    `ncols ${gridSide}\nnrows ${gridSide}\nxllcorner 558000\nyllcorner 347000\ncellsize 1\nNODATA_value -9999\n`,
  )
  for (let i = 0; i < gridSide; i++) writeSync(fd, `${row}\n`)
  closeSync(fd)
}

function writeHeights(file: string): void {
  const cells = Float32Array.from(
    { length: side * side },
    (_, i) => 40 + 10 * Math.sin((i % side) / 90) + Math.floor(i / side) / 300,
  )
  const fd = openSync(file, 'w')
  writeSync(
    fd,
    writeGeoTiff({ epsg: 27_700, west: 558_000, north: 348_000, cellM: 1, columns: side, rows: side, cells }),
  )
  closeSync(fd)
}

async function compared(name: string, kind: 'tiff' | 'ascii-grid'): Promise<void> {
  const file = at(name)
  const ours = await shortest(() =>
    heightsInProcess({ file, name, kind, folder }, { temporaryFolder: folder }),
  )
  const theirs = gdal ? await shortest(() => peer(file)) : null
  const megabytes = statSync(file).size / 1e6
  const ratio =
    theirs === null
      ? 'GDAL is not installed'
      : `GDAL ${theirs.toFixed(2)} s, ${(theirs / ours).toFixed(2)} times as long`
  console.log(
    `${name.padEnd(18)} ${megabytes.toFixed(0).padStart(5)} MB   ready in ${ours.toFixed(2)} s, hash included; ${ratio}`,
  )
}

try {
  console.log(`Node ${process.version}, ${cpus().length} x ${cpus()[0]?.model}`)
  writeGrid(at('grid.asc'))
  const bytes = statSync(at('grid.asc')).size
  const whole = new Uint8Array(readFileSync(at('grid.asc')))
  const parsed = await shortest(() => {
    const reader = new AscReader('grid.asc', { onHeader: () => true, onRow: () => {} })
    for (let from = 0; from < whole.length; from += 1 << 20)
      reader.push(whole.subarray(from, from + (1 << 20)))
    reader.end()
    if (reader.faults.length > 0) throw new Error(reader.faults[0]!.text)
  })
  console.log(
    `reading grid.asc from memory, nothing written: ${(bytes / 1e6 / parsed).toFixed(0)} MB a second`,
  )
  await compared('grid.asc', 'ascii-grid')
  writeHeights(at('plain.tif'))
  await compared('plain.tif', 'tiff')
  if (gdal) {
    run(
      'gdal_translate',
      '-q',
      '-co',
      'TILED=YES',
      '-co',
      'COMPRESS=DEFLATE',
      '-co',
      'PREDICTOR=3',
      at('plain.tif'),
      at('packed.tif'),
    )
    await compared('packed.tif', 'tiff')
  }
} finally {
  rmSync(folder, { recursive: true, force: true })
}
