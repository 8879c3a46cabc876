import type { SurveyGridView, SurveyView } from '#contract'
import { gridNumber, plainPair } from '#ui'
import { queryClient } from '../api/queries.ts'
import { copyText } from '../state/copy.ts'
import { useStore } from '../state/store.ts'
import classes from './coordinate-readout.module.css'
import { mapView, pointed } from './map-state.ts'
import { pointerReference } from './pointer-reference.ts'

/** Tenths of a metre only where a pixel is finer than that. */
const digitsAt = (metresPerPixel: number): number => (metresPerPixel < 0.15 ? 1 : 0)

interface Told {
  /** Lettered reference; null in a grid that has none. */
  readonly reference: string | null
  /** Easting and northing, as they are shown and as they are copied. */
  readonly pair: string
  readonly plain: string
}

function told(place: readonly number[], metresPerPixel: number, epsg: number): Told {
  const [easting = 0, northing = 0] = place
  const digits = digitsAt(metresPerPixel)
  return {
    reference: pointerReference(epsg, easting, northing, metresPerPixel),
    pair: `${gridNumber(easting, digits)} E, ${gridNumber(northing, digits)} N`,
    plain: plainPair(easting, northing, digits),
  }
}

/** Copies the place under the pointer, or the middle of the map: its reference where the grid has letters, else its figures. */
export async function copyPlace(): Promise<void> {
  const view = mapView.get()
  const place = pointed.get() ?? view?.centre
  const epsg = queryClient.getQueryData<SurveyView>(['survey'])?.grid?.epsg
  if (!view || !place || epsg === undefined) return
  const { reference, plain } = told(place, view.metresPerPixel, epsg)
  await copyText(reference ?? plain)
}

/** The place under the pointer, or the middle of the map while no pointer is over it. A click on a figure copies it. */
export function CoordinateReadout({ grid }: { readonly grid: SurveyGridView | null }) {
  const under = useStore(pointed)
  const view = useStore(mapView)
  const place = under ?? view?.centre
  if (!grid || !place || !view) return <span />
  const { reference, pair, plain } = told(place, view.metresPerPixel, grid.epsg)
  const by = `${grid.name} by ${grid.method}`
  return (
    <div className={classes.readout} data-testid="readout">
      {reference === null ? null : (
        <button
          type="button"
          className={classes.reference}
          onClick={() => void copyText(reference)}
          title={`Click to copy. Grid reference by ${grid.method}`}
          data-testid="readout-reference"
        >
          {reference}
        </button>
      )}
      <button
        type="button"
        className={classes.pair}
        onClick={() => void copyText(plain)}
        title={`Click to copy. ${by}`}
        data-testid="readout-pair"
      >
        {pair}
      </button>
      <span className={classes.grid}>{under ? by : 'Middle of the map'}</span>
    </div>
  )
}
