import { IconPhotoSearch, IconPolygon, IconRoute, IconSquareRotated, IconWalk } from '@tabler/icons-react'
import { goToStage, panelOpen, type Stage, showStage, stage, stages } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { BrandMark } from './brand-mark.tsx'
import { useCardsAt } from './cards.tsx'
import classes from './stage-rail.module.css'

const shown: Record<Stage, { readonly name: string; readonly icon: typeof IconWalk }> = {
  land: { name: 'Land', icon: IconPolygon },
  marks: { name: 'Marks', icon: IconPhotoSearch },
  plan: { name: 'Plan', icon: IconRoute },
  visits: { name: 'Visits', icon: IconWalk },
  finds: { name: 'Finds', icon: IconSquareRotated },
}

/** The stages of the work, in its order. The one that is open folds its panel away. */
export function StageRail() {
  const current = useStore(stage)
  const covered = useCardsAt() === 'panel'
  const open = useStore(panelOpen) && !covered
  return (
    <nav className={classes.rail} aria-label="Stages">
      <div className={classes.mark}>
        <BrandMark />
      </div>
      <ul className={classes.list}>
        {stages.map((name) => {
          const { name: label, icon: Icon } = shown[name]
          return (
            <li key={name}>
              <button
                type="button"
                className={classes.stage}
                aria-current={name === current ? 'true' : undefined}
                aria-expanded={name === current && open}
                aria-controls="panel"
                onClick={() => (covered ? showStage : goToStage)(name)}
              >
                <Icon size={24} stroke={1.75} aria-hidden="true" />
                {label}
              </button>
            </li>
          )
        })}
      </ul>
    </nav>
  )
}
