import { Button } from '@mantine/core'
import { type FormEvent, useEffect, useId, useRef, useState } from 'react'
import type { FindRow } from '#contract'
import { Notice } from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { refreshSurvey } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { tell } from '../state/notices.ts'
import { undoLast } from '../survey/undo.ts'
import { type Choice, ComboBox } from './combo-box.tsx'
import { useNumbers } from './finds-data.ts'
import { entering } from './finds-state.ts'
import { PointButton } from './place-field.tsx'
import classes from './record.module.css'

const today = (): string => new Date().toISOString().slice(0, 10)

/** Objects that the survey has already, the most common first. */
export function usualObjects(rows: readonly FindRow[]): string[] {
  const counts = new Map<string, number>()
  for (const { object } of rows) if (object !== '') counts.set(object, (counts.get(object) ?? 0) + 1)
  return [...counts].sort((a, b) => b[1] - a[1]).map(([object]) => object)
}

function choicesFor(text: string, objects: readonly string[]): Choice[] {
  const typed = text.trim().toLowerCase()
  return objects
    .filter((object) => object.toLowerCase().includes(typed) && object !== text)
    .slice(0, 6)
    .map((name) => ({ key: name, name }))
}

/** Number, what, where: a find in ten seconds. The rest can wait; the form stays for the next one. */
export function QuickEntry({ rows }: { readonly rows: readonly FindRow[] }) {
  const id = useId()
  const numbers = useNumbers()
  const [number, setNumber] = useState('')
  const [what, setWhat] = useState('')
  const [where, setWhere] = useState<string | readonly [number, number]>('')
  const [day, setDay] = useState(today)
  const [fault, setFault] = useState<string | null>(null)
  const [objects] = useState(() => usualObjects(rows))
  const form = useRef<HTMLFormElement>(null)
  const focusWhat = (): void => document.getElementById(`${id}-what`)?.focus()
  useEffect(() => form.current?.querySelectorAll('input')[1]?.focus(), [])
  const add = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    setFault(null)
    const foundAt = day === '' ? null : `${day}T00:00:00.000Z`
    const place =
      typeof where !== 'string'
        ? { easting: where[0], northing: where[1], foundAt }
        : where.trim() === ''
          ? null
          : { text: where.trim(), foundAt }
    try {
      const typed = number.trim().toUpperCase()
      const { record } = await findsApi.add({
        record: {
          ...(typed === '' ? {} : { number: typed }),
          objectType: what.trim() === '' ? null : { text: what.trim(), term: null },
        },
        place,
      })
      tell('good', `Added ${record.number}${what.trim() === '' ? '' : `, ${what.trim()}`}.`, {
        label: 'Undo',
        run: () => void undoLast(),
      })
      setNumber('')
      setWhat('')
      setWhere('')
      focusWhat()
      await refreshSurvey()
    } catch (error) {
      setFault(sentenceOf(error))
    }
  }
  return (
    <form
      ref={form}
      className={classes.card}
      onSubmit={(event) => void add(event)}
      noValidate
      data-testid="quick-entry"
    >
      <div className={classes.fields}>
        <div className={classes.field}>
          <label htmlFor={`${id}-number`}>Number</label>
          <input
            id={`${id}-number`}
            className={classes.input}
            value={number}
            placeholder={numbers?.next ?? 'the next'}
            autoComplete="off"
            onChange={(event) => setNumber(event.currentTarget.value)}
          />
        </div>
        <div className={classes.field}>
          <label htmlFor={`${id}-what`}>What</label>
          <ComboBox
            id={`${id}-what`}
            value={what}
            onType={setWhat}
            choices={choicesFor(what, objects)}
            onPick={({ name }) => setWhat(name)}
            onSettle={() => {}}
          />
        </div>
        <div className={classes.field} data-wide>
          <label htmlFor={`${id}-where`}>Where</label>
          <div className={classes.line}>
            <input
              id={`${id}-where`}
              className={classes.input}
              value={typeof where === 'string' ? where : `${where[0].toFixed(1)}, ${where[1].toFixed(1)}`}
              placeholder="grid reference, or empty"
              autoComplete="off"
              onChange={(event) => setWhere(event.currentTarget.value)}
            />
            <PointButton onPlace={setWhere} />
          </div>
        </div>
        <div className={classes.field}>
          <label htmlFor={`${id}-day`}>Found on</label>
          <input
            id={`${id}-day`}
            type="date"
            className={classes.input}
            value={day}
            onChange={(event) => setDay(event.currentTarget.value)}
          />
        </div>
      </div>
      {fault ? <Notice tone="fault">{fault}</Notice> : null}
      <div className={classes.buttons}>
        <Button type="submit">Add the find</Button>
        <Button variant="default" onClick={() => entering.set(false)}>
          Done
        </Button>
      </div>
    </form>
  )
}
