import { Button } from '@mantine/core'
import { IconArrowLeft, IconArrowRight } from '@tabler/icons-react'
import { useMemo } from 'react'
import type { GapView } from '#contract'
import { type Column, countText, DataGrid, gridHeight, Section, squareMetresText, wholeNumber } from '#ui'
import { goToPolygons } from '../map/choosing.ts'
import { gapBeside, largestFirst } from '../map/gap-order.ts'
import { selection } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import classes from './visits-panel.module.css'
import { shownGapsNow, useShownGaps } from './visits-state.ts'

interface GapRow {
  readonly place: number
  readonly gap: GapView
}

const columns: readonly Column<GapRow>[] = [
  { title: 'Gap', cell: ({ place }) => wholeNumber(place) },
  { title: 'Area', number: true, cell: ({ gap }) => squareMetresText(gap.areaM2) },
]

/** Goes to the gap after, or before, the one now chosen: largest first, and round again at the end. */
export function stepGap(step: 1 | -1): void {
  const gap = gapBeside(largestFirst(shownGapsNow()), selection.get(), step)
  if (gap) goToPolygons('gap', gap)
}

const rowsShown = 6

/** The gaps, largest first; one that is chosen is shown on the map. */
export function GapList({ count }: { readonly count: number }) {
  const gaps = useShownGaps()
  const chosen = useStore(selection)
  const rows = useMemo(() => largestFirst(gaps).map((gap, i) => ({ place: i + 1, gap })), [gaps])
  if (count === 0) return null
  return (
    <Section title="Gaps" aside={countText(count, 'gap')}>
      <div className={classes.gapsHead}>
        <Button
          variant="default"
          leftSection={<IconArrowLeft size={16} aria-hidden="true" />}
          onClick={() => stepGap(-1)}
        >
          Gap before
        </Button>
        <Button
          variant="default"
          rightSection={<IconArrowRight size={16} aria-hidden="true" />}
          onClick={() => stepGap(1)}
        >
          Next gap
        </Button>
      </div>
      <DataGrid
        label="Gaps, largest first"
        rows={rows}
        columns={columns}
        rowKey={({ gap }) => gap.id}
        chosen={chosen?.kind === 'gap' ? chosen.id : null}
        onChoose={({ gap }) => goToPolygons('gap', gap)}
        style={{ height: gridHeight(Math.min(count, rowsShown)) }}
        testId="gap-list"
      />
    </Section>
  )
}
