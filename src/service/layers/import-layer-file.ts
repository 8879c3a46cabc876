import path from 'node:path'
import type { ImportedFile } from '#contract'
import type { StoredLayer, SurveyFile } from '#store'
import type { WorkOptions } from '#work'
import { importRaster } from './import-layer.ts'
import { importSidecar } from './import-sidecar.ts'
import { LayerCache } from './layer-cache.ts'
import type { RasterKind } from './raster-kind.ts'
import type { Sidecar } from './sidecars.ts'

/** How files of layers are to be taken. */
export interface LayerWishes {
  /** True for files that may be moved: they are then stored in the folder of layers beside the survey. Else they stay where they are. */
  readonly move?: boolean
  /** Names of the files that were given at once with it, its own among them. */
  readonly together?: readonly string[]
  /** Files given at once with it that can be read where they are. */
  readonly beside?: readonly Sidecar[]
  /** The system of rasters that name none. */
  readonly epsg?: number
  readonly cache?: LayerCache
  /** Told of the layer that a file made or belongs to. */
  readonly onLayer?: (layer: StoredLayer) => void
}

/** Brings in one file of a layer: a raster, a world file, a .prj file. Faults: as `importRaster`. */
export async function importLayerFile(
  survey: SurveyFile,
  kind: RasterKind,
  name: string,
  file: string,
  { move = false, together = [], beside = [], epsg, cache, onLayer, ...options }: WorkOptions & LayerWishes,
): Promise<ImportedFile> {
  const sidecar = kind === 'world-file' || kind === 'coordinate-system'
  const { layer, ...told } = sidecar
    ? importSidecar(survey, kind, { name, file }, { move, together })
    : await importRaster(survey, kind, name, file, {
        ...options,
        move,
        together: beside,
        names: together,
        cache: cache ?? new LayerCache(path.dirname(survey.path)),
        ...(epsg === undefined ? {} : { epsg }),
      })
  if (layer) onLayer?.(layer)
  return told
}
