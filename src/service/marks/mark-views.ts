import { type LayerView, layerViewShape, type Mark, type Sighting, type Target } from '#contract'
import type { PlanarGrid } from '#core/geodesy'
import { boundsOf } from '#core/geometry'
import type { MarkSighting, PlanarPosition, StoredMark, StoredTarget } from '#store'
import { projected } from '../projecting.ts'
import { gridRefOf, isoTime } from '../views.ts'
import { lineOf, stepped } from './mark-outline.ts'

/** Accuracy to which a place on a picture is told, metres: a ten-figure reference. */
const told = 1

/** Easting and northing in a grid; null where it does not reach. */
function planarOf(
  {
    planar,
    lon,
    lat,
  }: { readonly planar: PlanarPosition | null; readonly lon: number; readonly lat: number },
  grid: PlanarGrid,
): readonly [easting: number, northing: number] | null {
  if (planar?.epsg === grid.epsg) return [planar.easting, planar.northing]
  const [easting, northing] = projected(Float64Array.of(lon, lat), grid.forward)
  return Number.isNaN(easting) || Number.isNaN(northing) ? null : [easting!, northing!]
}

/** The outline of a mark in a grid, as interleaved pairs. */
const planarLine = (mark: Pick<StoredMark, 'outline'>, grid: PlanarGrid): Float64Array =>
  lineOf(stepped(mark.outline, grid.forward))

/** The diameter of a ring or pit: as stored, or of the circle as wide as its outline where another program changed that. */
function diameterOf(
  { kind, diameterM }: Pick<StoredMark, 'kind' | 'diameterM'>,
  line: Float64Array,
): number | null {
  if (kind !== 'ring' && kind !== 'pit') return null
  if (diameterM !== null) return diameterM
  const { minX, minY, maxX, maxY } = boundsOf(line)
  return (maxX - minX + maxY - minY) / 2
}

const viewOf = (view: unknown): LayerView | null => layerViewShape.safeParse(view).data ?? null

const sightingOf = ({ view, ...seen }: MarkSighting): Sighting => ({ ...seen, view: viewOf(view) })

/** Null for a mark that the grid does not reach. */
export function markView(mark: StoredMark, targetId: number | null, grid: PlanarGrid): Mark | null {
  const place = planarOf(mark, grid)
  const line = planarLine(mark, grid)
  if (place === null || line.some(Number.isNaN)) return null
  const {
    planar: _,
    settings: __,
    uuid: ___,
    outline: ____,
    madeAt,
    view,
    seenAgain,
    arcGaps,
    mayBe,
    ...rest
  } = mark
  return {
    ...rest,
    easting: place[0],
    northing: place[1],
    gridRef: gridRefOf(grid, place[0], place[1], told),
    outline: Array.from({ length: line.length / 2 }, (_, i) => [line[2 * i]!, line[2 * i + 1]!]),
    diameterM: diameterOf(mark, line),
    arcGaps: [...arcGaps],
    mayBe: [...mayBe],
    view: viewOf(view),
    seenAgain: seenAgain.map(sightingOf),
    madeAt: isoTime(madeAt),
    targetId,
  }
}

/** Null for a target that the grid does not reach. */
export function targetView(target: StoredTarget, grid: PlanarGrid): Target | null {
  const place = planarOf(target, grid)
  if (place === null) return null
  const { id, name, note, lon, lat, markId, madeAt } = target
  const [easting, northing] = place
  const gridRef = gridRefOf(grid, easting, northing, told)
  return { id, name, note, easting, northing, lat, lon, gridRef, markId, madeAt: isoTime(madeAt) }
}
