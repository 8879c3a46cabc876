import { type FileFault, SurveyError } from '#core/faults'
import type { GroundLines } from '#core/imagery'
import { pictureInProcess, tiffHeader, type WorkOptions } from '#work'
import type { LayerCache } from './layer-cache.ts'
import type { PictureFacts } from './layer-sources.ts'
import { lookedGrid, lookedHeights, ownPlace } from './looked-terrain.ts'
import type { RasterKind } from './raster-kind.ts'
import { tiffKind } from './tiff-kind.ts'

/** What looking at a raster found: all that is stored of it, and what it says itself of its place. */
export interface LookedRaster {
  readonly kind: 'image' | 'terrain'
  readonly sha256: string
  /** Bytes. */
  readonly size: number
  /** Upright. */
  readonly columns: number
  readonly rows: number
  readonly bands: number
  readonly sampleType: string
  readonly noData: number | null
  /** EXIF orientation by which it was turned upright, and its size before. */
  readonly orientation: number
  readonly storedColumns: number
  readonly storedRows: number
  readonly takenOn: string | null
  /** Where it lies by itself, in the system of `epsg` or `systemText`. */
  readonly lines: GroundLines | null
  readonly epsg: number | null
  readonly systemText: string | null
  readonly faults: readonly FileFault[]
}

const saysNothing = { noData: null, lines: null, epsg: null, systemText: null }

/** Looks at a picture and keeps its overview. Faults: as `lookAtPicture`. */
async function lookedPicture(
  name: string,
  file: string,
  cache: LayerCache,
  options: WorkOptions,
): Promise<LookedRaster> {
  const looked = await cache.working(async (folder) => {
    const found = await pictureInProcess({ file, name, folder }, { ...options, temporaryFolder: folder })
    const facts: PictureFacts = { form: found.form, planes: found.planes }
    cache.keep(found.sha256, found.planes.whole ? 'whole' : 'overview', folder, facts)
    return found
  })
  const { form, planes, sha256, size, takenOn, damage } = looked
  return {
    ...saysNothing,
    kind: 'image',
    sha256,
    size,
    columns: planes.columns,
    rows: planes.rows,
    bands: form.channels - (form.alpha ? 1 : 0),
    sampleType: form.sampleType,
    orientation: form.orientation,
    storedColumns: form.columns,
    storedRows: form.rows,
    takenOn,
    faults: damage === null ? [] : [{ line: null, code: 'broken-file', text: damage }],
  }
}

/** Looks at a TIFF: its header says whether it holds a picture or heights, and where it lies. */
async function lookedTiff(
  name: string,
  file: string,
  cache: LayerCache,
  options: WorkOptions,
): Promise<LookedRaster> {
  const { tiff, faults } = tiffHeader(name, file)
  if (!tiff) throw new SurveyError(faults[0]!.code, faults[0]!.text)
  if (tiffKind(tiff) === 'terrain') return lookedHeights(name, file, tiff, cache, options)
  const looked = await lookedPicture(name, file, cache, options)
  const place = ownPlace(name, tiff)
  return { ...looked, ...place, faults: [...faults, ...looked.faults, ...place.faults] }
}

/** Looks at a raster of any kind. The file is read once; what can be kept for showing it is. */
export function lookedRaster(
  kind: Exclude<RasterKind, 'world-file' | 'coordinate-system'>,
  name: string,
  file: string,
  cache: LayerCache,
  options: WorkOptions,
): Promise<LookedRaster> {
  if (kind === 'ascii-grid') return lookedGrid(name, file, cache, options)
  if (kind === 'tiff') return lookedTiff(name, file, cache, options)
  return lookedPicture(name, file, cache, options)
}
