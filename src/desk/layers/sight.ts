import type { Layer, LayerView } from '#contract'
import { createStore } from '../state/store.ts'
import type { ShownPicture } from './picture-stack.ts'

/** A picture of the ground: a layer in a view. */
export interface Sight {
  readonly layer: Layer
  readonly view: LayerView
}

/** What the map shows above the other pictures for as long as a mark is open; null for nothing. */
export const sightOnMap = createStore<Sight | null>(null)

/** The pictures with that one above them, whole and in its view. */
export function withSight(pictures: readonly ShownPicture[], sight: Sight | null): readonly ShownPicture[] {
  if (!sight) return pictures
  const { layer, view } = sight
  const above: ShownPicture = { layer, look: { shown: true, opacity: 1, blend: 'normal', view } }
  return [above, ...pictures.filter((each) => each.layer.id !== layer.id)]
}
