import { IconFocusCentered, IconMinus, IconPlus } from '@tabler/icons-react'
import { goTo, plan } from './map-state.ts'
import type { PlanBounds } from './plan-handlers.ts'
import classes from './zoom-buttons.module.css'

/** Nearer, farther, and the whole survey. */
export function ZoomButtons({ bounds }: { readonly bounds: PlanBounds | null }) {
  const buttons = [
    { name: 'Nearer', icon: IconPlus, run: () => plan.get()?.zoomBy(1) },
    { name: 'Farther', icon: IconMinus, run: () => plan.get()?.zoomBy(-1) },
    { name: 'Show the whole survey', icon: IconFocusCentered, run: () => goTo(bounds) },
  ]
  return (
    <div className={classes.buttons}>
      {buttons.map(({ name, icon: Icon, run }) => (
        <button
          key={name}
          type="button"
          className={classes.button}
          aria-label={name}
          title={name}
          onClick={run}
        >
          <Icon size={18} aria-hidden="true" />
        </button>
      ))}
    </div>
  )
}
