import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import type { BearingFound } from '#contract'
import { type FileFault, SurveyError } from '#core/faults'
import type { PlanarGrid } from '#core/geodesy'
import type { PlanarArea } from '#core/geometry'
import { lineBearing } from '#core/lanes'
import { readFileInThread } from '#work'
import { BlockSource } from './layers/block-source.ts'
import { pixelAxes, pixelMap, pixelSize } from './layers/pixel-map.ts'
import { sampleBlocks } from './layers/sample-blocks.ts'
import { isTerrainFile, marksRaster } from './marks-raster.ts'
import { gridOfContent } from './place.ts'
import { contour, ploughLines } from './plans/read-bearing.ts'
import { projected } from './projecting.ts'

/** A bearing read from a raster file, and what was said on the way. */
export interface BearingOfFile extends BearingFound {
  readonly faults: readonly FileFault[]
}

/**
 * The bearing that a raster file shows over some ground: of plough lines on a picture or on the relief of a terrain model, or of a terrain
 * model's contours. Faults: those of reading; SurveyError 'unknown-system' where the file does not say where it lies, 'setting-out-of-range'
 * for contours of a picture and for ground with too few pixels.
 */
export async function bearingOfRaster(
  file: string,
  by: 'plough' | 'contour',
  ground: PlanarArea,
  grid: PlanarGrid,
): Promise<BearingOfFile> {
  const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-bearing-'))
  try {
    const name = path.basename(file)
    const terrain = isTerrainFile(file)
    if (by === 'contour' && !terrain) {
      const sentence = `${name} is a picture and has no contours; give a terrain model.`
      throw new SurveyError('setting-out-of-range', sentence)
    }
    const view = terrain && by === 'plough' ? 'local-relief' : 'as-is'
    const { blocks, columns, rows, placement, epsg, systemText, faults } = await marksRaster(
      file,
      view,
      folder,
      {},
    )
    const placedBy = 'file' as const
    const facts = { columns, rows, placing: placement, epsg, systemText, placedBy, expectedErrorM: null }
    const map = pixelMap(facts, grid)
    const axes = map && pixelAxes(map)
    if (!map || !axes) {
      const sentence = `${name} does not say where it lies in a system that is known here, or lies beyond ${grid.name}: bring its world and .prj files beside it.`
      throw new SurveyError('unknown-system', sentence)
    }
    const source = new BlockSource(blocks, columns, rows)
    try {
      const raster = {
        name,
        pixelM: pixelSize(axes),
        values: (frame: Parameters<typeof sampleBlocks>[2]) => sampleBlocks(source, map.toPixels, frame),
      }
      return { ...(await (by === 'plough' ? ploughLines : contour)(ground, raster)), faults }
    } finally {
      source.close()
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

/** Bearing in `grid` of the first line of a file. Faults: those of reading; SurveyError 'no-track', 'bad-value' for a line that keeps to no direction. */
export async function bearingOfLine(file: string, grid: PlanarGrid): Promise<number> {
  const { content } = await readFileInThread(path.basename(file), file)
  const line = content.tracks.find(({ xy }) => xy.length >= 4)
  if (line === undefined)
    throw new SurveyError('no-track', `${file} holds no line, so there is no bearing to take from it.`)
  const own = gridOfContent({ ...content, areas: [], findspots: [], tracks: [line] })!
  const lonLat = line.epsg === 4326 ? line.xy : projected(line.xy, own.inverse)
  const bearing = lineBearing(line.epsg === grid.epsg ? line.xy : projected(lonLat, grid.forward))
  if (Number.isNaN(bearing))
    throw new SurveyError('bad-value', `The line in ${file} keeps to no one direction; draw a straight one.`)
  return bearing
}
