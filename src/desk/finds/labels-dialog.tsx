import { Button } from '@mantine/core'
import { IconPrinter } from '@tabler/icons-react'
import { type FormEvent, useId, useState } from 'react'
import type { LabelsRequest } from '#contract'
import { type LabelStock, labelStocks } from '#core/labels'
import { countText, Notice } from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { refreshSurvey } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { openDialog } from '../state/desk-state.ts'
import { tell } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import dialogs from '../survey/dialogs.module.css'
import { save } from '../survey/save-file.ts'
import { useNumbers } from './finds-data.ts'
import { labelFinds } from './labels-state.ts'
import classes from './record.module.css'

type What = 'finds' | 'blank' | 'again'
const paperKey = 'lynchet.label-paper'

function rememberedPaper(): string {
  try {
    const kept = localStorage.getItem(paperKey)
    if (labelStocks.some(({ key }) => key === kept)) return kept!
  } catch {
    // Nothing is remembered in a private window.
  }
  return labelStocks[0]!.key
}

function remember(paper: string): void {
  try {
    localStorage.setItem(paperKey, paper)
  } catch {
    // Then it is chosen anew each time.
  }
}

function paperName({ columns, rows, width, height, pageWidth }: LabelStock): string {
  if (pageWidth === width) return `Roll, ${width} × ${height} mm`
  return `A4, ${columns * rows} labels of ${width} × ${height} mm`
}

interface Form {
  readonly what: What
  readonly count: string
  readonly sheet: string
  readonly code: 'data-matrix' | 'qr'
  readonly skip: string
}

function requestOf(
  { what, count, sheet, code, skip }: Form,
  ids: readonly number[],
  blanks: string[],
): LabelsRequest {
  const how = { sheet, code, skip: Number(skip) }
  if (what === 'finds') return { ...how, ids: [...ids] }
  return what === 'blank' ? { ...how, blank: Number(count) } : { ...how, again: blanks }
}

/** Labels for bags as PDF: for the finds listed or picked, blank ones to take out, or blank ones once more. */
export function LabelsDialog() {
  const ids = useStore(labelFinds)
  const blanks = (useNumbers()?.gaps ?? [])
    .filter(({ state }) => state === 'label')
    .map(({ number }) => number)
  const [form, setForm] = useState<Form>(() => ({
    what: ids.length > 0 ? 'finds' : 'blank',
    count: '24',
    sheet: rememberedPaper(),
    code: 'data-matrix',
    skip: '0',
  }))
  const [fault, setFault] = useState<string | null>(null)
  const [busy, setBusy] = useState(false)
  const set = (part: Partial<Form>): void => setForm({ ...form, ...part })
  const make = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    setFault(null)
    setBusy(true)
    try {
      remember(form.sheet)
      const name = await save(await findsApi.labels(requestOf(form, ids, blanks)), 'labels.pdf')
      tell('good', `Wrote ${name}. Print it at 100 %, not fitted to the page.`)
      openDialog.set(null)
      await refreshSurvey()
    } catch (error) {
      setFault(sentenceOf(error))
    }
    setBusy(false)
  }
  return (
    <form className={dialogs.stack} onSubmit={(event) => void make(event)}>
      <WhatChoice form={form} set={set} finds={ids.length} blanks={blanks.length} />
      <PaperFields form={form} set={set} />
      {fault ? <Notice tone="fault">{fault}</Notice> : null}
      {form.what === 'blank' ? (
        <Notice tone="plain">
          Their numbers are given out for good; check-in asks for them after the visit.
        </Notice>
      ) : null}
      <Button type="submit" loading={busy} leftSection={<IconPrinter size={18} aria-hidden="true" />}>
        Save the PDF
      </Button>
    </form>
  )
}

interface PartProps {
  readonly form: Form
  readonly set: (part: Partial<Form>) => void
}

function WhatChoice(props: PartProps & { readonly finds: number; readonly blanks: number }) {
  const { form, set, finds, blanks } = props
  const choices: readonly (readonly [What, string, boolean])[] = [
    ['finds', `For ${countText(finds, 'find')}`, finds === 0],
    ['blank', 'Blank ones with fresh numbers, to take out', false],
    ['again', `Blank ones once more (${blanks})`, blanks === 0],
  ]
  return (
    <fieldset className={dialogs.group}>
      <legend>Labels</legend>
      <div className={dialogs.choices}>
        {choices.map(([value, label, disabled]) => (
          <label key={value} className={dialogs.choice}>
            <input
              type="radio"
              name="labels"
              value={value}
              checked={form.what === value}
              disabled={disabled}
              onChange={() => set({ what: value })}
            />
            {label}
          </label>
        ))}
      </div>
    </fieldset>
  )
}

function PaperFields({ form, set }: PartProps) {
  const id = useId()
  return (
    <div className={classes.fields}>
      {form.what === 'blank' ? (
        <SmallField
          id={`${id}-count`}
          label="How many"
          value={form.count}
          onChange={(count) => set({ count })}
        />
      ) : null}
      <div className={classes.field} data-wide>
        <label htmlFor={`${id}-sheet`}>Paper</label>
        <select
          id={`${id}-sheet`}
          className={classes.input}
          value={form.sheet}
          onChange={(event) => set({ sheet: event.currentTarget.value })}
        >
          {labelStocks.map((stock) => (
            <option key={stock.key} value={stock.key}>
              {paperName(stock)}
            </option>
          ))}
        </select>
      </div>
      <div className={classes.field}>
        <label htmlFor={`${id}-code`}>Code</label>
        <select
          id={`${id}-code`}
          className={classes.input}
          value={form.code}
          onChange={(event) => set({ code: event.currentTarget.value as Form['code'] })}
        >
          <option value="data-matrix">Data Matrix</option>
          <option value="qr">QR</option>
        </select>
      </div>
      <SmallField
        id={`${id}-skip`}
        label="Labels of the sheet used already"
        value={form.skip}
        onChange={(skip) => set({ skip })}
      />
    </div>
  )
}

interface SmallFieldProps {
  readonly id: string
  readonly label: string
  readonly value: string
  readonly onChange: (value: string) => void
}

function SmallField({ id, label, value, onChange }: SmallFieldProps) {
  return (
    <div className={classes.field}>
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        className={classes.input}
        inputMode="numeric"
        value={value}
        onChange={(event) => onChange(event.currentTarget.value)}
      />
    </div>
  )
}
