import { createHash } from 'node:crypto'
import { type Layer, terrainViews } from '#contract'
import { imageViewsFor } from '#core/imagery'
import type { StoredLayer } from '#store'
import { knownSystem } from './ground-system.ts'
import { rastersOf, whereIs } from './layer-files.ts'
import { type LayerPlace, levelsOf } from './layer-place.ts'
import { bandColours } from './picture-source.ts'

/** How far a layer has been made ready: nothing, an overview, or its whole detail. */
export type Readiness = 'nothing' | 'overview' | 'whole'

/** A name for what the pixels of a layer come from: its hash, or one over those of a mosaic and where they lie in it. */
export function sourceKey(layer: Pick<StoredLayer, 'files'>): string {
  const rasters = rastersOf(layer)
  if (rasters.length === 1) return rasters[0]!.sha256
  const parts = rasters.map(({ sha256, firstColumn, firstRow }) => [sha256, firstColumn, firstRow])
  return createHash('sha256').update(JSON.stringify(parts)).digest('hex')
}

/** A text that is another whenever the layer's tiles look different. */
export function stampOf(layer: StoredLayer, readiness: Readiness): string {
  const { placing, epsg, systemText, noData, nearInfraredBand, kind } = layer
  const all = [sourceKey(layer), placing, epsg, systemText, noData, nearInfraredBand, kind, readiness]
  return createHash('sha256').update(JSON.stringify(all)).digest('hex').slice(0, 16)
}

/** What keeps a layer that lies nowhere from the map. */
function lackOf({ placing, epsg, systemText }: StoredLayer): NonNullable<Layer['lack']> {
  if (placing === null) return 'place'
  return knownSystem(epsg, systemText) ? 'outside' : 'system'
}

/** A layer as the page sees it. `place` is null while it lies nowhere; its picture is then shown in its own pixels, one a metre. */
export function layerView(
  surveyPath: string,
  layer: StoredLayer,
  place: LayerPlace | null,
  readiness: Readiness,
): Layer {
  const rasters = rastersOf(layer)
  const [first] = rasters
  const more = rasters.length > 1 ? ` and ${rasters.length - 1} more` : ''
  return {
    id: layer.id,
    name: layer.name,
    kind: layer.kind,
    takenOn: layer.takenOn,
    fileName: `${first?.name ?? layer.name}${more}`,
    found: rasters.every((file) => file.originalId !== null || whereIs(surveyPath, file) !== null),
    inside: rasters.length > 0 && rasters.every(({ originalId }) => originalId !== null),
    columns: layer.columns,
    rows: layer.rows,
    bands: layer.bands,
    pixelM: place?.pixelM ?? 1,
    epsg: layer.placedBy === 'tie-points' ? null : layer.epsg,
    expectedErrorM: place?.expectedErrorM ?? null,
    bounds: place?.bounds ?? null,
    views: layer.kind === 'terrain' ? [...terrainViews] : imageViewsFor(layer.bands, bandColours(layer)),
    tileM: place?.tileM ?? 1,
    levels: place?.levels ?? levelsOf(Math.max(layer.columns, layer.rows)),
    ready: readiness !== 'nothing',
    stamp: stampOf(layer, readiness),
    attribution: layer.attribution,
    nearInfraredBand: layer.nearInfraredBand,
    placedBy: place ? layer.placedBy : null,
    lack: place ? null : lackOf(layer),
    tiePoints: [...layer.tiePoints],
  }
}
