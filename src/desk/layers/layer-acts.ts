import type { Layer, LayerEdit } from '#contract'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey } from '../api/queries.ts'
import { goTo } from '../map/map-state.ts'
import { tell, tellFault } from '../state/notices.ts'
import { createStore } from '../state/store.ts'
import { undoLast } from '../survey/undo.ts'

/** The layer whose settings stand open in the list; null for none. */
export const openLayer = createStore<number | null>(null)

/** Changes what the survey knows of a layer; false where it was refused, and said why. */
export async function editLayer(layer: Layer, edit: LayerEdit): Promise<boolean> {
  try {
    await deskApi.changeLayer(layer.id, edit)
    await refreshSurvey()
    return true
  } catch (error) {
    tellFault(error)
    await refreshSurvey()
    return false
  }
}

export async function removeLayer(layer: Layer): Promise<void> {
  try {
    await deskApi.removeLayer(layer.id)
    openLayer.set(null)
    tell('good', `Took ${layer.name} out of the survey. Its file stays where it is.`, {
      label: 'Undo',
      run: () => void undoLast(),
    })
    await refreshSurvey()
  } catch (error) {
    tellFault(error)
  }
}

export async function keepInside(layer: Layer): Promise<void> {
  try {
    await deskApi.keepLayerInside(layer.id)
    tell('good', `${layer.name} is now inside the survey file.`)
    await refreshSurvey()
  } catch (error) {
    tellFault(error)
  }
}

export function goToLayer({ bounds }: Layer): void {
  goTo(bounds)
}
