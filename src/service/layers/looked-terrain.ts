import { type FileFault, SurveyError } from '#core/faults'
import type { GroundLines } from '#core/imagery'
import type { AscHeader } from '#formats/asc'
import type { GeoTiff } from '#formats/geotiff'
import { heightsInProcess, type WorkOptions } from '#work'
import type { LayerCache } from './layer-cache.ts'
import type { HeightsFacts } from './layer-sources.ts'
import type { LookedRaster } from './looked-raster.ts'
import { type ReadSystem, systemOfText } from './sidecars.ts'

const upright = { orientation: 1, takenOn: null, kind: 'terrain' as const }

/** Looks at an ASCII grid and keeps its heights, at every scale. Faults: as `heightsOfAsc`. */
export async function lookedGrid(
  name: string,
  file: string,
  cache: LayerCache,
  options: WorkOptions,
): Promise<LookedRaster> {
  const { header, columns, rows, sha256, size, faults } = await made('ascii-grid', name, file, cache, options)
  if (!header) throw new SurveyError('broken-file', `${name} has no header.`)
  const lines = gridLines(header, rows)
  const { noData } = header
  const nothing = noData ?? -9999
  return {
    ...upright,
    ...{ sha256, size, columns, rows, storedColumns: columns, storedRows: rows, lines, faults },
    ...{ bands: 1, sampleType: 'float32', noData: Number.isNaN(nothing) ? null : nothing },
    ...{ epsg: null, systemText: null },
  }
}

/** Where an ASCII grid lies by its header. */
export function gridLines({ west, south, cellX, cellY }: AscHeader, rows: number): GroundLines {
  return {
    easting: west,
    northing: south + rows * cellY,
    eastingPerColumn: cellX,
    northingPerColumn: 0,
    eastingPerRow: 0,
    northingPerRow: -cellY,
  }
}

/** Looks at a TIFF of heights and keeps them, at every scale. Faults: as `heightsOfTiff`. */
export async function lookedHeights(
  name: string,
  file: string,
  tiff: GeoTiff,
  cache: LayerCache,
  options: WorkOptions,
): Promise<LookedRaster> {
  const place = ownPlace(name, tiff)
  const { columns, rows, sha256, size, faults } = await made('tiff', name, file, cache, options)
  return {
    ...upright,
    ...{ sha256, size, columns, rows, storedColumns: columns, storedRows: rows },
    ...{ bands: 1, sampleType: tiff.picture.sampleType },
    ...place,
    faults: [...faults, ...place.faults, ...heightNotes(name, tiff)],
  }
}

/** What a TIFF says itself of where it lies and of what means nothing. */
export function ownPlace(name: string, { noData, lines, system, palette }: GeoTiff) {
  const stated: ReadSystem =
    system.epsg !== null || system.systemText === null
      ? { epsg: system.epsg, systemText: null, faults: [] }
      : systemOfText(name, system.systemText)
  // Of a palette it is a number and no colour, and has become alpha.
  const nothing = palette || Number.isNaN(noData) ? null : noData
  return { noData: nothing, lines, ...stated }
}

/** EPSG codes of the metre, and of units of length that heights may be in instead. */
const metre = 9001
const units: Readonly<Record<number, string>> = { 9002: 'feet', 9003: 'US survey feet' }

function heightNotes(name: string, { system, mask }: GeoTiff): FileFault[] {
  const { heightUnit } = system
  const hidden = `${name} has a mask beside its heights, which is not read: what it hides is shown.`
  const masked: FileFault[] = mask ? [{ line: null, code: 'unsupported-feature', text: hidden }] : []
  if (heightUnit === null || heightUnit === metre) return masked
  const unit = units[heightUnit] ?? `the unit EPSG:${heightUnit}`
  const text = `${name} states its heights in ${unit}; they are taken as metres here, so that slopes come out too steep or too gentle: convert them first.`
  return [...masked, { line: null, code: 'assumed', text }]
}

async function made(
  kind: 'tiff' | 'ascii-grid',
  name: string,
  file: string,
  cache: LayerCache,
  options: WorkOptions,
) {
  return cache.working(async (folder) => {
    const found = await heightsInProcess(
      { file, name, kind, folder },
      { ...options, temporaryFolder: folder },
    )
    const facts: HeightsFacts = { columns: found.columns, rows: found.rows }
    cache.keep(found.sha256, 'heights', folder, facts)
    return found
  })
}
