import type { SurveyGridView } from '#contract'
import { gridNumber, plainPair } from '#ui'
import { tell, tellFault } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import classes from './coordinate-readout.module.css'
import { mapView, pointed } from './map-state.ts'

/** Tenths of a metre only where a pixel is finer than that. */
const digitsAt = (metresPerPixel: number): number => (metresPerPixel < 0.15 ? 1 : 0)

/** Copies the place under the pointer, or the middle of the map, and says so or why not. */
export async function copyPlace(): Promise<void> {
  const view = mapView.get()
  const place = pointed.get() ?? view?.centre
  if (!view || !place) return
  const text = plainPair(place[0] ?? 0, place[1] ?? 0, digitsAt(view.metresPerPixel))
  try {
    await navigator.clipboard.writeText(text)
    tell('good', `Copied ${text}.`)
  } catch {
    tellFault(new Error('The browser did not let the place be copied.'))
  }
}

/** Easting and northing under the pointer, or at the middle of the map while no pointer is over it. A click copies them. */
export function CoordinateReadout({ grid }: { readonly grid: SurveyGridView | null }) {
  const under = useStore(pointed)
  const view = useStore(mapView)
  const place = under ?? view?.centre
  if (!grid || !place || !view) return <span />
  const [easting = 0, northing = 0] = place
  const digits = digitsAt(view.metresPerPixel)
  return (
    <button
      type="button"
      className={classes.readout}
      onClick={() => void copyPlace()}
      title={`Click to copy. ${grid.name} by ${grid.method}`}
      data-testid="readout"
    >
      <span className={classes.pair}>
        {gridNumber(easting, digits)} E, {gridNumber(northing, digits)} N
      </span>
      <span className={classes.grid}>{under ? `${grid.name} by ${grid.method}` : 'Middle of the map'}</span>
    </button>
  )
}
