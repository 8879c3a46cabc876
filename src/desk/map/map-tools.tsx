import { IconRulerMeasure } from '@tabler/icons-react'
import { areaDraft } from '../land/area-draft.ts'
import { measure, toggleMeasure } from '../measure/measure-state.ts'
import { useStore } from '../state/store.ts'
import type { PlanBounds } from './plan-handlers.ts'
import classes from './zoom-buttons.module.css'
import { ZoomButtons } from './zoom-buttons.tsx'

/** The buttons on the map: to measure, and to change the scale. */
export function MapTools({ bounds }: { readonly bounds: PlanBounds | null }) {
  const on = useStore(measure) !== null
  const drafting = useStore(areaDraft) !== null
  return (
    <div className={classes.tools}>
      <div className={classes.buttons}>
        <button
          type="button"
          className={classes.button}
          aria-label="Measure"
          title={drafting ? 'Measure, once the search area is saved or left' : 'Measure'}
          aria-pressed={on}
          disabled={drafting}
          onClick={toggleMeasure}
        >
          <IconRulerMeasure size={18} aria-hidden="true" />
        </button>
      </div>
      <ZoomButtons bounds={bounds} />
    </div>
  )
}
