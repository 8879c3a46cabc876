import type { LayerView, terrainViews } from '#contract'
import type { FileFault } from '#core/faults'
import { blendScale, blendToGrey, type MeasuredView, type ReliefView } from '#core/relief'
import { systemFromEpsg } from '#formats/coordinate-system'
import { type RasterSystem, writeGeoTiff } from '#formats/geotiff'
import { ReliefThreads, type WorkOptions } from '#work'
import { writeOut } from './export.ts'
import { fromRaster } from './layers/terrain-light.ts'
import { type TerrainOfFile, terrainOfFile } from './layers/terrain-of-file.ts'
import { farViews, filledView, nearView } from './layers/terrain-views.ts'

/** What `lynchet relief` is asked for. */
export interface ReliefWishes extends Omit<LayerView, 'view' | 'number' | 'cutPercent'> {
  readonly file: string
  readonly view: (typeof terrainViews)[number]
  readonly out: string
  /** Smoothing of local relief; the bell where it is left out. */
  readonly shape?: 'box' | 'gaussian'
  /** The system of a file that names none. */
  readonly epsg?: number
}

/** What was made of it; the figures are of cells that have a value. */
export interface ReliefReply {
  readonly written: string
  readonly view: string
  readonly min: number | null
  readonly max: number | null
  readonly mean: number | null
  readonly columns: number
  readonly rows: number
  /** Size of a cell on the ground, metres. */
  readonly cellX: number
  readonly cellY: number
  readonly epsg: number | null
  /** Of the view alone, reading and writing left out. */
  readonly seconds: number
  readonly faults: readonly FileFault[]
}

type Values = Uint8Array | Float32Array

/** A view of a terrain model as a GeoTIFF that lies as the model does. Faults: those of `terrainOfFile`, 'setting-out-of-range', of writing. */
export async function reliefOfFile(wishes: ReliefWishes, options: WorkOptions = {}): Promise<ReliefReply> {
  const read = await terrainOfFile(wishes.file, wishes.epsg ?? null, partOf(options, 0, 0.5))
  const threads = new ReliefThreads()
  try {
    const start = performance.now()
    const values = await valuesOf(read, wishes, threads, partOf(options, 0.5, 1))
    const seconds = (performance.now() - start) / 1000
    const { columns, rows, cellX, cellY } = read.terrain
    const noData = values instanceof Uint8Array ? 0 : Number.NaN
    const system = systemOf(read.epsg)
    writeOut(wishes.out, writeGeoTiff({ columns, rows, cells: values, noData, lines: read.lines, system }))
    const figures = figuresOf(values)
    const size = { columns, rows, cellX, cellY, epsg: read.epsg }
    return {
      written: wishes.out,
      view: wishes.view,
      ...figures,
      ...size,
      seconds,
      faults: faultsOf(read, wishes),
    }
  } finally {
    await threads.close()
  }
}

function partOf(options: WorkOptions, from: number, to: number): WorkOptions {
  const { progress } = options
  return progress
    ? { ...options, progress: (done, label) => progress(from + done * (to - from), label) }
    : options
}

async function valuesOf(
  { terrain, turn }: TerrainOfFile,
  wishes: ReliefWishes,
  threads: ReliefThreads,
  options: WorkOptions,
): Promise<Values> {
  const filled = filledView(wishes, turn)
  const near = nearView(filled, turn)
  const shape = wishes.shape ?? 'gaussian'
  const views: readonly ReliefView[] = near ? [near] : farViews(filled).map((view) => shaped(view, shape))
  const pictures: Values[] = []
  for (const view of views) pictures.push(await threads.view(terrain, view, options))
  const [first, second] = pictures as [Values, Values?]
  if (second !== undefined) return blended(first as Float32Array, second as Float32Array)
  return wishes.view === 'aspect' ? first.map((bearing) => fromRaster(bearing, turn)) : first
}

const shaped = (view: MeasuredView, shape: 'box' | 'gaussian'): MeasuredView =>
  view.view === 'local-relief' ? { ...view, shape } : view

function blended(sky: Float32Array, relief: Float32Array): Uint8Array {
  const out = new Uint8Array(sky.length)
  const scale = blendScale(sky, relief)
  if (scale) blendToGrey(sky, relief, scale, out)
  return out
}

function figuresOf(values: Values): Pick<ReliefReply, 'min' | 'max' | 'mean'> {
  let [min, max, sum, count] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0, 0]
  const nothing = values instanceof Uint8Array ? 0 : Number.NaN
  for (const value of values) {
    if (Number.isNaN(value) || value === nothing) continue
    if (value < min) min = value
    if (value > max) max = value
    sum += value
    count++
  }
  return count === 0 ? { min: null, max: null, mean: null } : { min, max, mean: sum / count }
}

function systemOf(epsg: number | null): RasterSystem | null {
  if (epsg === null) return null
  return { epsg, geographic: systemFromEpsg(epsg)?.degrees ?? false }
}

function faultsOf({ epsg, faults }: TerrainOfFile, { out }: ReliefWishes): FileFault[] {
  if (epsg !== null) return [...faults]
  const text = `${out} does not name its coordinate system, for that of the model has no EPSG code: use its .prj file for both.`
  return [...faults, { line: null, code: 'unknown-system', text }]
}
