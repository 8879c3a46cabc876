import { Button } from '@mantine/core'
import { type FormEvent, type ReactNode, useEffect, useId, useState } from 'react'
import type { NewFind } from '#contract'
import type { CodedWord } from '#core/finds'
import { Notice } from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { refreshSurvey } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { tell } from '../state/notices.ts'
import { undoLast } from '../survey/undo.ts'
import { ComboBox } from './combo-box.tsx'
import { useNumbers } from './finds-data.ts'
import { entering } from './finds-state.ts'
import { useObjectWords, wordChoices, wordOfChoice } from './object-words.ts'
import { PointButton } from './place-field.tsx'
import classes from './record.module.css'

const today = (): string => new Date().toISOString().slice(0, 10)

type Where = string | readonly [number, number]

/** Where a find was made, as the form has it; null for an empty field. */
function placeOf(where: Where, day: string): NewFind['place'] {
  const foundAt = day === '' ? null : `${day}T00:00:00.000Z`
  if (typeof where !== 'string') return { easting: where[0], northing: where[1], foundAt }
  return where.trim() === '' ? null : { text: where.trim(), foundAt }
}

async function addFind(number: string, what: CodedWord | null, where: Where, day: string): Promise<void> {
  const typed = number.trim().toUpperCase()
  const { record } = await findsApi.add({
    record: {
      ...(typed === '' ? {} : { number: typed }),
      objectType: what,
    },
    place: placeOf(where, day) ?? null,
  })
  const undo = { label: 'Undo', run: () => void undoLast() }
  tell('good', `Added ${record.number}${what === null ? '' : `, ${what.text}`}.`, undo)
}

/** What was typed, as the term that was picked for it where it still says so. */
function wordFor(typed: string, picked: CodedWord | null): CodedWord | null {
  const text = typed.trim()
  if (text === '') return null
  return picked?.text === text ? picked : { text, term: null }
}

/** Number, what, where: a find in ten seconds. The rest can wait; the form stays for the next one. */
export function QuickEntry() {
  const id = useId()
  const numbers = useNumbers()
  const [number, setNumber] = useState('')
  const [what, setWhat] = useState('')
  const [term, setTerm] = useState<CodedWord | null>(null)
  const [where, setWhere] = useState<Where>('')
  const [day, setDay] = useState(today)
  const [fault, setFault] = useState<string | null>(null)
  const words = useObjectWords()
  useEffect(() => document.getElementById(`${id}-what`)?.focus(), [id])
  const add = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    setFault(null)
    try {
      await addFind(number, wordFor(what, term), where, day)
      setNumber('')
      setWhat('')
      setWhere('')
      document.getElementById(`${id}-what`)?.focus()
      await refreshSurvey()
    } catch (error) {
      setFault(sentenceOf(error))
    }
  }
  return (
    <form className={classes.card} onSubmit={(event) => void add(event)} noValidate data-testid="quick-entry">
      <div className={classes.fields}>
        <PlainField
          id={`${id}-number`}
          label="Number"
          value={number}
          placeholder={numbers?.next ?? 'the next'}
          onChange={setNumber}
        />
        <div className={classes.field}>
          <label htmlFor={`${id}-what`}>What</label>
          <ComboBox
            id={`${id}-what`}
            value={what}
            onType={setWhat}
            choices={wordChoices(what, words)}
            onPick={(choice) => {
              setWhat(choice.name)
              setTerm(wordOfChoice(choice))
            }}
            onSettle={() => {}}
          />
        </div>
        <PlainField
          id={`${id}-where`}
          label="Where"
          value={typeof where === 'string' ? where : where.map((metres) => metres.toFixed(1)).join(', ')}
          placeholder="grid reference, or empty"
          onChange={setWhere}
          beside={<PointButton onPlace={setWhere} />}
        />
        <PlainField id={`${id}-day`} label="Found on" type="date" value={day} onChange={setDay} />
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

interface PlainFieldProps {
  readonly id: string
  readonly label: string
  readonly value: string
  readonly onChange: (value: string) => void
  readonly placeholder?: string
  readonly type?: 'text' | 'date'
  /** A button beside it; the field then has a line of its own. */
  readonly beside?: ReactNode
}

function PlainField({ id, label, value, onChange, placeholder, type = 'text', beside }: PlainFieldProps) {
  return (
    <div className={classes.field} data-wide={beside ? true : undefined}>
      <label htmlFor={id}>{label}</label>
      <div className={classes.line}>
        <input
          id={id}
          className={classes.input}
          type={type}
          value={value}
          placeholder={placeholder}
          autoComplete="off"
          onChange={(event) => onChange(event.currentTarget.value)}
        />
        {beside}
      </div>
    </div>
  )
}
