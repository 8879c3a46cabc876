import type { StoredLayer, SurveyFile } from '#store'
import type { LayerCache } from './layer-cache.ts'
import { rastersOf } from './layer-files.ts'
import type { HeightsFacts } from './layer-sources.ts'
import { joinedFrame, shifted, type TileFrame } from './mosaic.ts'

/** A layer that a terrain model was joined to, and the name of the one that it abuts. */
export interface Joined {
  readonly layer: StoredLayer
  readonly to: string
}

/**
 * Joins a terrain model that has just come in to those that came at once with it and abut it. Each joining is a step that can be undone. Null where there is
 * none.
 *
 * @param names of the files that were given at once
 */
export function joinTiles(
  survey: SurveyFile,
  added: StoredLayer,
  names: readonly string[],
  cache: LayerCache,
): Joined | null {
  let layer = added
  let to: string | null = null
  for (let found = true; found; ) {
    found = false
    for (const other of survey.layers()) {
      if (other.id === layer.id || !cameAtOnce(other, names) || !sameSystem(other, layer)) continue
      // The one that was there first stays.
      const [first, second] = other.id < layer.id ? [other, layer] : [layer, other]
      const joined = joinedLayers(survey, first, second, cache)
      if (!joined) continue
      to ??= other.name
      layer = joined
      found = true
      break
    }
  }
  return to === null ? null : { layer, to }
}

function cameAtOnce(layer: StoredLayer, names: readonly string[]): boolean {
  const rasters = rastersOf(layer)
  return (
    layer.kind === 'terrain' &&
    layer.placedBy !== 'tie-points' &&
    rasters.length > 0 &&
    rasters.every(({ name }) => names.includes(name))
  )
}

const sameSystem = (a: StoredLayer, b: StoredLayer): boolean =>
  a.kind === b.kind && a.epsg === b.epsg && a.systemText === b.systemText

function joinedLayers(
  survey: SurveyFile,
  first: StoredLayer,
  second: StoredLayer,
  cache: LayerCache,
): StoredLayer | null {
  const [a, b] = [framesOf(first, cache), framesOf(second, cache)]
  const frame = a && b && joinedFrame(a, b)
  if (!frame) return null
  const at = (layer: StoredLayer, cells: typeof frame.first) =>
    rastersOf(layer).map((file, i) => ({ ...file, firstColumn: cells[i]!.column, firstRow: cells[i]!.row }))
  const others = [first, second].flatMap(({ files }) => files.filter(({ role }) => role !== 'raster'))
  const { placing, columns, rows } = frame
  const files = [...at(first, frame.first), ...at(second, frame.second), ...others]
  survey.removeLayer(second.id)
  return survey.changeLayer(
    first.id,
    { placing, columns, rows, files },
    `joining of ${second.name} to ${first.name}`,
  )
}

/** Where each file of a terrain model lies; null where that is not known, since its heights are no longer there. */
function framesOf(layer: StoredLayer, cache: LayerCache): TileFrame[] | null {
  const { placing } = layer
  if (!placing) return null
  const frames: TileFrame[] = []
  for (const { sha256, firstColumn, firstRow } of rastersOf(layer)) {
    const facts = cache.find<HeightsFacts>(sha256, 'heights')
    if (!facts) return null
    frames.push({ ...facts, placing: shifted(placing, firstColumn, firstRow) })
  }
  return frames
}
