import type { Mark } from '#contract'
import type { SeenLayer } from '../layers/layer-looks.ts'
import { nameWithYear } from '../layers/layer-words.ts'
import type { Sight } from '../layers/sight.ts'
import { viewWords } from '../layers/view-words.ts'
import { reaches } from './chip-address.ts'
import { MarkChip } from './mark-chip.tsx'
import classes from './marks.module.css'

/** Oldest first, what has no day last; of one layer the view that the mark was seen in before the one it is looked at by. */
function sightsOf(mark: Mark, layers: readonly SeenLayer[]): Sight[] {
  const there = layers.filter(({ layer }) => reaches(layer, mark))
  const byDay = there.toSorted((a, b) => day(a).localeCompare(day(b)))
  return byDay.flatMap(({ layer, look }) => {
    const views = [layer.id === mark.layerId ? mark.view : null, look.view].filter((view) => view !== null)
    const names = new Set<string>()
    return views.flatMap((view) => {
      if (names.has(view.view) || !layer.views.includes(view.view)) return []
      names.add(view.view)
      return [{ layer, view }]
    })
  })
}

const day = ({ layer }: SeenLayer): string => layer.takenOn ?? '9'

interface MarkStripProps {
  readonly mark: Mark
  readonly layers: readonly SeenLayer[]
  readonly shown: Sight
  readonly onChoose: (sight: Sight) => void
}

/** The same spot on every picture that shows it, in the order of their days. The one that is chosen stands large above. */
export function MarkStrip({ mark, layers, shown, onChoose }: MarkStripProps) {
  const sights = sightsOf(mark, layers)
  if (sights.length < 2) return null
  return (
    <ul className={classes.strip} aria-label="The same spot on every picture" data-testid="mark-strip">
      {sights.map((sight) => {
        const { layer, view } = sight
        const chosen = layer.id === shown.layer.id && view.view === shown.view.view
        return (
          <li key={`${layer.id} ${view.view}`}>
            <button
              type="button"
              className={classes.stripped}
              aria-pressed={chosen}
              onClick={() => onChoose(sight)}
            >
              <MarkChip mark={mark} layer={layer} view={view} outlined={false} alt="" />
              <span className={classes.stripName}>{nameWithYear(layer)}</span>
              <span className={classes.stripView}>{viewWords[view.view].name}</span>
            </button>
          </li>
        )
      })}
    </ul>
  )
}
