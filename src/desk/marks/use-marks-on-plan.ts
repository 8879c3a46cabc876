import { useEffect, useMemo } from 'react'
import { knownList, useList } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import type { MarkEditorHandlers } from '../map/mark-editor.ts'
import type { Plan } from '../map/plan.ts'
import { selection, stage } from '../state/desk-state.ts'
import { tellFault } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import { isShown, kindListed } from './mark-order.ts'
import { changeMark, drawnKind, keepMark, kindFilter, markFilter } from './marks-state.ts'

/** What the pointer does to marks on the map. */
export const markHandlers: MarkEditorHandlers = {
  dragged: (id, drag) => {
    const mark = knownList('marks').find((each) => each.id === id)
    if (mark) void changeMark(mark, drag)
  },
  drawn: (mark) => {
    keepMark(mark).catch((error: unknown) => tellFault(new Error(sentenceOf(error))))
  },
}

/** Keeps the map showing marks and targets. In their stage it shows the kind that is listed; rejected ones are shown while they are listed, other candidates while none is open. */
export function useMarksOnPlan(made: Plan | null): void {
  const marks = useList('marks')
  const targets = useList('targets')
  const filter = useStore(markFilter)
  const asked = useStore(kindFilter)
  const chosen = useStore(selection)
  const here = useStore(stage) === 'marks'
  const drawing = useStore(drawnKind)
  const rejected = here && (filter === 'rejected' || filter === 'all')
  const open = useMemo(
    () => (here && chosen?.kind === 'mark' ? (marks.find(({ id }) => id === chosen.id) ?? null) : null),
    [here, chosen, marks],
  )
  const one = open !== null
  const kind = here ? kindListed(marks, asked) : 'all'
  const shown = useMemo(
    () =>
      marks.filter(
        (mark) =>
          (rejected || mark.state !== 'rejected') &&
          !(one && mark.state === 'candidate') &&
          isShown(mark, { state: 'all', kind }),
      ),
    [marks, rejected, one, kind],
  )
  useEffect(() => made?.marks.show(shown), [made, shown])
  useEffect(() => made?.marks.showTargets(targets), [made, targets])
  useEffect(() => made?.marks.open(open), [made, open])
  useEffect(() => made?.marks.chooseTarget(chosen?.kind === 'target' ? chosen.id : null), [made, chosen])
  useEffect(() => made?.marks.draw(here ? drawing : null), [made, here, drawing])
}
