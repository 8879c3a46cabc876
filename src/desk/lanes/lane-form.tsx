import type { AreaView, LanePattern } from '#contract'
import { FormRow, NumberRow, Section } from '#ui'
import { SelectRow } from '../layers/select-row.tsx'
import { BearingRows } from './bearing-rows.tsx'
import classes from './lanes.module.css'
import { changeForm, type LaneForm, openPlan } from './lanes-state.ts'
import { LeaveOutRows, StartRows } from './start-rows.tsx'

const patterns: readonly { readonly value: LanePattern; readonly text: string }[] = [
  { value: 'parallel', text: 'Side by side' },
  { value: 'transects', text: 'Side by side, edges left out' },
  { value: 'spiral', text: 'Spiral outward' },
]

function change(edit: Partial<LaneForm>): void {
  openPlan.set(null)
  changeForm(edit)
}

/** Who walks them, how fast, and when. */
function PaceRows({ form }: { readonly form: LaneForm }) {
  return (
    <>
      <NumberRow
        label="Walkers"
        hint="Each gets an even share"
        value={form.walkers}
        refuse={(value) =>
          Number.isInteger(value) && value >= 1 && value <= 100 ? null : 'Give a whole number from 1 to 100.'
        }
        onChange={(value) => value !== null && change({ walkers: value })}
      />
      <NumberRow
        label="Speed"
        hint="Along lanes, sweeping"
        unit="m/s"
        value={form.speedMs}
        refuse={(value) => (value > 0 && value <= 3 ? null : 'Give a speed above 0 up to 3 m/s.')}
        onChange={(value) => value !== null && change({ speedMs: value })}
      />
      <NumberRow
        label="Rest"
        hint="After each 50 minutes"
        unit="min"
        value={form.restMin}
        refuse={(value) => (value >= 0 && value <= 120 ? null : 'Give a value from 0 to 120 minutes.')}
        onChange={(value) => value !== null && change({ restMin: value })}
      />
      <FormRow
        label="Day"
        hint="Empty: today"
        control={(id) => (
          <input
            id={id}
            className={classes.day}
            type="date"
            value={form.day ?? ''}
            onChange={(event) =>
              change({ day: event.currentTarget.value === '' ? null : event.currentTarget.value })
            }
          />
        )}
      />
    </>
  )
}

/** How the lanes are to lie; every change draws them anew. */
export function LaneFormSection({
  form,
  areas,
}: {
  readonly form: LaneForm
  readonly areas: readonly AreaView[]
}) {
  return (
    <Section title="Lanes">
      <div className={classes.form}>
        <SelectRow
          label="Search area"
          value={form.areaId === null ? '' : String(form.areaId)}
          choices={[
            ...(form.areaId === null ? [{ value: '', text: 'Choose one' }] : []),
            ...areas.map(({ id, name }) => ({ value: String(id), text: name })),
          ]}
          onChange={(value) => change({ areaId: value === '' ? null : Number(value) })}
        />
        <NumberRow
          label="Spacing"
          hint="Between lanes: the swath less the overlap"
          unit="m"
          value={form.spacingM}
          refuse={(value) => (value >= 0.1 && value <= 1000 ? null : 'Give a value from 0.1 to 1,000 m.')}
          onChange={(value) => value !== null && change({ spacingM: value })}
        />
        <SelectRow
          label="Pattern"
          value={form.pattern}
          choices={patterns}
          onChange={(pattern) => change({ pattern })}
        />
        {form.pattern === 'spiral' ? null : <BearingRows form={form} />}
        <StartRows form={form} />
        <LeaveOutRows form={form} />
        <PaceRows form={form} />
      </div>
    </Section>
  )
}
