import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { type FileFault, SurveyError } from '#core/faults'
import { type GroundLines, placementFromLines } from '#core/imagery'
import type { Terrain } from '#core/relief'
import type { LayerFacts } from '#store'
import { heightsInProcess, sharedFloats, tiffHeader, type WorkOptions } from '#work'
import { BlockSource } from './block-source.ts'
import { gridAtLayer } from './edit-layer.ts'
import { gridLines, ownPlace } from './looked-terrain.ts'
import { pixelAxes, pixelMap } from './pixel-map.ts'
import { rasterKindOf } from './raster-kind.ts'
import { readSystem, sidecarsIn, systemFileOf } from './sidecars.ts'
import { type RasterTurn, rasterTurn } from './terrain-light.ts'
import { mayBeHeights } from './tiff-kind.ts'

/** A terrain model read by itself, without a survey, held whole. */
export interface TerrainOfFile {
  /** Cells in metres on the ground. Heights stand on shared memory. */
  readonly terrain: Terrain
  /** How its axes lie to the grid of its place. */
  readonly turn: RasterTurn
  /** Where it lies in its own system, of that code where one is known. */
  readonly lines: GroundLines
  readonly epsg: number | null
  readonly faults: readonly FileFault[]
}

/** Most cells that are held whole: with a view of them some 5 GB. */
const mostCells = 500_000_000

type Place = Pick<LayerFacts, 'epsg' | 'systemText'> & { readonly lines: GroundLines | null }

/**
 * Reads a GeoTIFF of heights or an ASCII grid, its .prj file beside it. `epsg` says the system of one that names none.
 * Cost    four bytes a cell here, and as much on the disk while it is read.
 * Faults  SurveyError 'unsupported-feature' for an image, 'missing-part' where it does not say where it lies, 'unknown-system', 'outside-grid',
 *         'raster-too-large', those of reading it.
 */
export async function terrainOfFile(
  file: string,
  epsg: number | null,
  options: WorkOptions,
): Promise<TerrainOfFile> {
  const name = path.basename(file)
  const kind = rasterKindOf(name, file)
  if (kind !== 'tiff' && kind !== 'ascii-grid') throw notHeights(name)
  const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-heights-'))
  try {
    const own = kind === 'tiff' ? placeOfTiff(name, file) : null
    const made = await heightsInProcess({ file, name, kind, folder }, { ...options, temporaryFolder: folder })
    const { columns, rows } = made
    if (columns * rows > mostCells) throw tooLarge(name, columns, rows)
    const stated = own ?? { lines: made.header && gridLines(made.header, rows), epsg: null, systemText: null }
    const { place, faults } = completed(name, file, stated, epsg)
    const { lines, turn } = laid(name, place, columns, rows)
    const values = wholeHeights(path.join(folder, 'heights.0.f32'), columns, rows)
    const terrain = { columns, rows, cellX: turn.cellX, cellY: turn.cellY, values }
    return {
      terrain,
      turn,
      lines,
      epsg: place.epsg,
      faults: [...made.faults, ...(own?.faults ?? []), ...faults],
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

const notHeights = (name: string): SurveyError =>
  new SurveyError(
    'unsupported-feature',
    `${name} holds no heights: relief is worked out of a GeoTIFF with one band of heights, or an ASCII grid.`,
  )

const tooLarge = (name: string, columns: number, rows: number): SurveyError =>
  new SurveyError(
    'raster-too-large',
    `${name} has ${columns} x ${rows} cells, more than can be worked with at once here; cut the part out that you need.`,
  )

function placeOfTiff(name: string, file: string): ReturnType<typeof ownPlace> {
  const { tiff, faults } = tiffHeader(name, file)
  if (!tiff) throw new SurveyError(faults[0]!.code, faults[0]!.text)
  if (!mayBeHeights(tiff)) throw notHeights(name)
  return ownPlace(name, tiff)
}

/** The place with the system that the file beside it, or else the user, gives, where the file names none. */
function completed(
  name: string,
  file: string,
  place: Place,
  epsg: number | null,
): { place: Place; faults: readonly FileFault[] } {
  if (place.epsg !== null || place.systemText !== null) return { place, faults: [] }
  const beside = epsg === null ? systemFileOf(name, sidecarsIn(path.dirname(file))) : null
  const said = beside && readSystem(beside)
  return { place: { ...place, ...(said ?? { epsg, systemText: null }) }, faults: said?.faults ?? [] }
}

/** How it lies on the ground, in the grid of its place. */
function laid(
  name: string,
  { lines, epsg, systemText }: Place,
  columns: number,
  rows: number,
): { lines: GroundLines; turn: RasterTurn } {
  if (lines === null) {
    const sentence = `${name} does not say where it lies nor how large its cells are: export it with its place.`
    throw new SurveyError('missing-part', sentence)
  }
  const placing = placementFromLines(lines)
  const layer = {
    name,
    epsg,
    systemText,
    placing,
    placedBy: 'file',
    columns,
    rows,
    expectedErrorM: null,
  } as const
  if (epsg === null && systemText === null) {
    const sentence = `${name} does not say in which coordinate system it lies: put its .prj file beside it, or give its EPSG code (--epsg).`
    throw new SurveyError('unknown-system', sentence)
  }
  const map = pixelMap(layer, gridAtLayer(layer, null))
  const axes = map && pixelAxes(map)
  if (!axes) throw new SurveyError('outside-grid', `${name} lies outside every grid that is known here.`)
  return { lines, turn: rasterTurn(axes) }
}

function wholeHeights(file: string, columns: number, rows: number): Float32Array {
  const source = new BlockSource(file, columns, rows)
  const values = sharedFloats(columns * rows)
  const band = 256
  try {
    for (let top = 0; top < rows; top += band) {
      const height = Math.min(band, rows - top)
      values.set(source.read(0, { left: 0, top, width: columns, height }), top * columns)
    }
  } finally {
    source.close()
  }
  return values
}
