import { type Layer, type LayerView, type Mark, usualChipSide } from '#contract'
import { plainView } from '../layers/view-words.ts'

/** The address of the square about a mark on one layer: another text whenever it looks different. */
export function chipAddress(mark: Mark, layer: Layer, view: LayerView): string {
  const { id, easting, northing } = mark
  const side = chipSide(mark)
  const query = new URLSearchParams({ layer: String(layer.id), side: String(side) })
  for (const [name, value] of Object.entries(plainView(view))) query.set(name, String(value))
  query.set('at', [easting, northing].map((metres) => metres.toFixed(2)).join(','))
  if (layer.stamp !== undefined) query.set('v', layer.stamp)
  return `/api/marks/${id}/chip.png?${query}`
}

/** Width of the square about a mark, whole metres. */
export const chipSide = (mark: Mark): number => Math.round(usualChipSide(mark))

/** True where a layer is on the map and holds the middle of a mark. */
export function reaches({ bounds, found }: Layer, { easting, northing }: Mark): boolean {
  if (bounds === null || !found) return false
  const [west, south, east, north] = bounds
  return easting >= west && easting <= east && northing >= south && northing <= north
}
