import { Checkbox } from '@mantine/core'
import { Notice, NumberRow } from '#ui'
import { useList } from '../api/queries.ts'
import { SelectRow } from '../layers/select-row.tsx'
import { useStore } from '../state/store.ts'
import { changeForm, type LaneForm, openPlan, wantedClick } from './lanes-state.ts'

function change(edit: Partial<LaneForm>): void {
  openPlan.set(null)
  changeForm(edit)
}

/** Where the walk starts, or a spiral has its middle: at a target, a place on the map, or by itself. */
export function StartRows({ form }: { readonly form: LaneForm }) {
  const targets = useList('targets')
  const waiting = useStore(wantedClick) === 'start'
  const spiral = form.pattern === 'spiral'
  const { start } = form
  const known = typeof start === 'number' && targets.some(({ id }) => id === start)
  const value = waiting ? 'click' : known ? String(start) : typeof start === 'object' && start ? 'place' : ''
  const choose = (next: string): void => {
    wantedClick.set(next === 'click' ? 'start' : null)
    if (next !== 'click' && next !== 'place') change({ start: next === '' ? null : Number(next) })
  }
  return (
    <>
      <SelectRow
        label={spiral ? 'Spiral from' : 'Start at'}
        value={value}
        choices={[
          { value: '', text: spiral ? 'The middle of the area' : 'Where the first lane begins' },
          ...targets.map(({ id, name }) => ({ value: String(id), text: name })),
          ...(value === 'place' ? [{ value: 'place', text: 'The place clicked' }] : []),
          { value: 'click', text: 'A place on the map' },
        ]}
        onChange={choose}
      />
      {waiting ? <Notice tone="plain">Click the place on the map. Escape ends it.</Notice> : null}
      {spiral ? (
        <NumberRow
          label="Reach"
          hint="How far out. Empty: as far as the area goes"
          unit="m"
          value={form.radiusM}
          mayBeEmpty
          placeholder="all"
          refuse={(metres) => (metres > 0 && metres <= 5000 ? null : 'Give a value above 0 up to 5,000 m.')}
          onChange={(radiusM) => change({ radiusM })}
        />
      ) : null}
    </>
  )
}

/** What is left out of the area, where the survey holds ground to be left alone or careful on. */
export function LeaveOutRows({ form }: { readonly form: LaneForm }) {
  const kinds = new Set(useList('areas').map(({ kind }) => kind))
  if (!kinds.has('no-go') && !kinds.has('hazard')) return null
  return (
    <>
      <NumberRow
        label="Keep clear"
        hint="About ground that is left out"
        unit="m"
        value={form.keepClearM}
        refuse={(metres) => (metres >= 0 && metres <= 1000 ? null : 'Give a value from 0 to 1,000 m.')}
        onChange={(metres) => metres !== null && change({ keepClearM: metres })}
      />
      {kinds.has('hazard') ? (
        <Checkbox
          label="Lay lanes over hazards too"
          checked={form.overHazards}
          onChange={(event) => change({ overHazards: event.currentTarget.checked })}
        />
      ) : null}
    </>
  )
}
