import path from 'node:path'
import { type FileFault, SurveyError } from '#core/faults'
import { type GroundLines, type PixelValue, type Placement, placementFromLines } from '#core/imagery'
import type { MeasuredView } from '#core/relief'
import {
  heightsInProcess,
  measureInThreads,
  pictureBlocks,
  pictureInProcess,
  tiffHeader,
  type WorkOptions,
  wholeInProcess,
} from '#work'
import { rasterKindOf } from './layers/raster-kind.ts'
import { readSystem, readWorld, sidecarsIn, systemFileOf, turned, worldFileOf } from './layers/sidecars.ts'
import { tiffKind } from './layers/tiff-kind.ts'

/** A raster file made ready for looking at: one number a pixel, in a file of blocks. */
export interface MarksRaster {
  readonly blocks: string
  readonly columns: number
  readonly rows: number
  /** Null where the file does not say where it lies. */
  readonly placement: Placement | null
  readonly epsg: number | null
  readonly systemText: string | null
  readonly faults: readonly FileFault[]
}

interface Where {
  readonly lines: GroundLines | null
  readonly epsg: number | null
  readonly systemText: string | null
  readonly faults: readonly FileFault[]
}

/**
 * Makes a GeoTIFF, ASCII grid, JPEG or PNG ready in `folder`, with what world and .prj files beside it say.
 * Faults: those of reading; SurveyError 'unknown-kind', 'setting-out-of-range' for a view that it cannot have.
 */
export async function marksRaster(
  file: string,
  view: string,
  folder: string,
  options: WorkOptions,
): Promise<MarksRaster> {
  const name = path.basename(file)
  const kind = kindOf(name, file)
  const told = { ...options, temporaryFolder: folder }
  if (kind === 'ascii-grid' || (kind === 'tiff' && isTerrain(name, file))) {
    const made = await heightsInProcess({ file, name, kind, folder }, told)
    const own = kind === 'tiff' ? tiffPlace(name, file) : gridPlace(made.header, made.rows)
    const where = placeOf(name, file, own)
    const { columns, rows } = made
    const heights = path.join(folder, 'heights.0.f32')
    const placement = where.lines && placementFromLines(where.lines)
    const blocks = await viewedTerrain(heights, { columns, rows, placement, view, folder, name }, options)
    return { ...where, blocks, columns, rows, placement, faults: [...made.faults, ...where.faults] }
  }
  const value = pictureValue(name, view)
  const looked = await pictureInProcess({ file, name, folder }, told)
  const { form, sha256 } = looked
  const planes = looked.planes.whole
    ? looked.planes
    : await wholeInProcess({ file, name, folder, form, sha256 }, told)
  const own = kind === 'tiff' ? tiffPlace(name, file) : null
  const where = placeOf(name, file, own)
  const blocks = path.join(folder, 'values.f32')
  const bands = form.channels - (form.alpha ? 1 : 0)
  if (value.of === 'band' && value.band >= bands) throw noView(name, `${view}: it has ${bands} bands`)
  if ((value.of === 'green-red' || value.of === 'visible-atmospheric') && bands < 3)
    throw noView(name, `${view}: it has no colours`)
  await pictureBlocks(
    { folder, planes, noData: own?.noData ?? null, value, out: blocks },
    options.progress ?? silent,
  )
  const placement = where.lines && turned(where.lines, form.orientation, form.columns, form.rows)
  const damage: FileFault[] =
    looked.damage === null ? [] : [{ line: null, code: 'broken-file', text: looked.damage }]
  const { columns, rows } = planes
  return { ...where, blocks, columns, rows, placement, faults: [...damage, ...where.faults] }
}

/** True for a file of heights. Faults: those of looking at it; SurveyError 'unknown-kind' for no raster. */
export function isTerrainFile(file: string): boolean {
  const name = path.basename(file)
  const kind = kindOf(name, file)
  return kind === 'ascii-grid' || (kind === 'tiff' && isTerrain(name, file))
}

const silent = (): void => {}

function kindOf(name: string, file: string): 'jpeg' | 'png' | 'tiff' | 'ascii-grid' {
  let kind: ReturnType<typeof rasterKindOf>
  try {
    kind = rasterKindOf(name, file)
  } catch (cause) {
    throw new SurveyError(
      'survey-missing',
      `${file} cannot be read: there is no such file, or it may not be opened.`,
      {
        cause,
      },
    )
  }
  if (kind === null || kind === 'world-file' || kind === 'coordinate-system') {
    const sentence = `${name} is no raster that can be read here; give a GeoTIFF, an ASCII grid, a JPEG or a PNG.`
    throw new SurveyError('unknown-kind', sentence)
  }
  return kind
}

function isTerrain(name: string, file: string): boolean {
  const { tiff, faults } = tiffHeader(name, file)
  if (!tiff) throw new SurveyError(faults[0]!.code, faults[0]!.text)
  return tiffKind(tiff) === 'terrain'
}

function tiffPlace(name: string, file: string): Where & { noData: number | null } {
  const { tiff, faults } = tiffHeader(name, file)
  if (!tiff) throw new SurveyError(faults[0]!.code, faults[0]!.text)
  const { lines, system, noData } = tiff
  return { lines, epsg: system.epsg, systemText: system.systemText, noData, faults }
}

function gridPlace(
  header: { west: number; south: number; cellX: number; cellY: number } | null,
  rows: number,
): Where | null {
  if (!header) return null
  const { west, south, cellX, cellY } = header
  const lines: GroundLines = {
    easting: west,
    northing: south + rows * cellY,
    eastingPerColumn: cellX,
    northingPerColumn: 0,
    eastingPerRow: 0,
    northingPerRow: -cellY,
  }
  return { lines, epsg: null, systemText: null, faults: [] }
}

/** What the file says itself goes before what stands beside it. */
function placeOf(name: string, file: string, own: Where | null): Where {
  const beside = sidecarsIn(path.dirname(path.resolve(file)))
  const faults = [...(own?.faults ?? [])]
  let lines = own?.lines ?? null
  if (!lines) {
    const world = worldFileOf(name, beside)
    const read = world.own && readWorld(world.own)
    lines = read?.lines ?? null
    faults.push(...world.faults, ...(read?.faults ?? []))
  }
  if (own && (own.epsg !== null || own.systemText !== null)) return { ...own, lines, faults }
  const stated = systemFileOf(name, beside)
  const system = stated && readSystem(stated)
  faults.push(...(system?.faults ?? []))
  return { lines, epsg: system?.epsg ?? null, systemText: system?.systemText ?? null, faults }
}

const pictureViews = 'as-is, green-red, visible-atmospheric or band:N'
const terrainViews = 'as-is, local-relief, slope, sky-view, openness-up or openness-down'

function noView(name: string, why: string): SurveyError {
  return new SurveyError('setting-out-of-range', `${name} cannot be looked at as ${why}.`)
}

function pictureValue(name: string, view: string): PixelValue {
  const band = /^band:(\d{1,3})$/.exec(view)?.[1]
  if (view === 'as-is') return { of: 'brightness' }
  if (view === 'green-red') return { of: 'green-red', green: 1, red: 0 }
  if (view === 'visible-atmospheric') return { of: 'visible-atmospheric', green: 1, red: 0, blue: 2 }
  if (band && Number(band) > 0) return { of: 'band', band: Number(band) - 1 }
  throw noView(name, `"${view}": it is a picture, whose views here are ${pictureViews}`)
}

/** How far round a cell the views of a terrain look, metres: as in the desk. */
const radiusM = 10

async function viewedTerrain(
  heights: string,
  raster: {
    readonly columns: number
    readonly rows: number
    readonly placement: Placement | null
    readonly view: string
    readonly folder: string
    readonly name: string
  },
  options: WorkOptions,
): Promise<string> {
  const { columns, rows, placement, view, folder, name } = raster
  if (view === 'as-is') return heights
  const measured = terrainView(name, view)
  if (!placement)
    throw noView(name, `${view}: it does not say where it lies, so the size of its cells is not known`)
  const [a, b, , d, e] = placement.toGround as [number, number, number, number, number]
  const out = path.join(folder, 'values.f32')
  const cells = { cellX: Math.hypot(a, d), cellY: Math.hypot(b, e) }
  await measureInThreads(
    { heights, out, columns, rows, ...cells, view: measured, label: `working out ${view}` },
    options,
  )
  return out
}

function terrainView(name: string, view: string): MeasuredView {
  const edges = 'fill'
  if (view === 'local-relief') return { view, shape: 'gaussian', radiusM, edges }
  if (view === 'slope') return { view, unit: 'degrees', zFactor: 1, edges }
  if (view === 'sky-view' || view === 'openness-up' || view === 'openness-down')
    return { view, radiusM, directions: 16, zFactor: 1, edges }
  throw noView(name, `"${view}": it is a terrain model, whose views here are ${terrainViews}`)
}
