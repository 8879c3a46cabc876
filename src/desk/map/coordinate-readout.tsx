import type { SurveyGridView } from '#contract'
import { gridNumber, plainPair } from '#ui'
import { tell, tellFault } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import classes from './coordinate-readout.module.css'
import { mapView, pointed } from './map-state.ts'

/** Copies text, and says so or why not. */
async function copyPlace(text: string): Promise<void> {
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
  const digits = view.metresPerPixel < 0.15 ? 1 : 0
  return (
    <button
      type="button"
      className={classes.readout}
      onClick={() => void copyPlace(plainPair(easting, northing, digits))}
      title="Click to copy"
      data-testid="readout"
    >
      <span className={classes.pair}>
        {gridNumber(easting, digits)} E, {gridNumber(northing, digits)} N
      </span>
      <span className={classes.grid}>
        {grid.name} by {grid.method}
      </span>
    </button>
  )
}
