import { Button } from '@mantine/core'
import { type FormEvent, useId, useMemo, useRef, useState } from 'react'
import type { FindRow } from '#contract'
import { type CheckIn as CheckedIn, checkIn, type ExpectedBag } from '#core/finds'
import { countText, Notice, Section } from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { tell } from '../state/notices.ts'
import { foundDays, numberRead } from './check-in-words.ts'
import { changed, useNumbers } from './finds-data.ts'
import { entering, findsView, goToFind } from './finds-state.ts'
import classes from './joins-review.module.css'
import record from './record.module.css'

interface CheckInProps {
  readonly rows: readonly FindRow[]
}

/** After a visit: the numbers expected, the bags in hand, and what is missing. */
export function CheckIn({ rows }: CheckInProps) {
  const days = useMemo(() => foundDays(rows), [rows])
  const numbers = useNumbers()
  const [day, setDay] = useState(days[0]?.[0] ?? '')
  const [read, setRead] = useState<readonly string[]>([])
  const ofDay = useMemo(
    () => rows.filter(({ foundAt }) => foundAt?.startsWith(day) && day !== ''),
    [rows, day],
  )
  const expected = useMemo<readonly ExpectedBag[]>(
    () => [
      ...ofDay.map(({ number }) => ({ number, kind: 'find' as const })),
      ...(numbers?.gaps ?? [])
        .filter(({ state }) => state === 'label')
        .map(({ number }) => ({ number, kind: 'label' as const })),
    ],
    [ofDay, numbers],
  )
  const result = checkIn(expected, read)
  const known = useMemo(() => new Map(rows.map((row) => [row.number, row])), [rows])
  return (
    <div className={classes.scroll} data-testid="check-in">
      <Section>
        <DayField days={days} day={day} onDay={setDay} />
        <ScanField onRead={(text) => setRead([...read, numberRead(text, expected)])} />
        <p role="status" data-testid="check-in-count">
          {result.here.length} of {countText(expected.filter(({ kind }) => kind === 'find').length, 'find')}{' '}
          and {countText(expected.filter(({ kind }) => kind === 'label').length, 'blank label')} in hand
        </p>
      </Section>
      <CheckInLists result={result} known={known} />
      <Section>
        <div className={record.buttons}>
          <Button disabled={result.here.length === 0} onClick={() => void noteBagged(result, known)}>
            Note these bags as bagged
          </Button>
          <Button variant="default" disabled={read.length === 0} onClick={() => setRead(read.slice(0, -1))}>
            Take the last back
          </Button>
        </div>
      </Section>
    </div>
  )
}

async function noteBagged({ here }: CheckedIn, known: ReadonlyMap<string, FindRow>): Promise<void> {
  const ids = here.flatMap(({ number }) => known.get(number)?.id ?? [])
  if (ids.length === 0) {
    tell('plain', 'The bags in hand have blank labels: enter their finds first.')
    return
  }
  const event = {
    ids,
    kind: 'bagged' as const,
    happenedOn: new Date().toISOString().slice(0, 10),
    who: null,
    note: null,
  }
  if (await changed(() => findsApi.addEvent(event)))
    tell('good', `Noted ${countText(ids.length, 'find')} as bagged.`)
}

interface DayFieldProps {
  readonly days: readonly (readonly [string, number])[]
  readonly day: string
  readonly onDay: (day: string) => void
}

function DayField({ days, day, onDay }: DayFieldProps) {
  const id = useId()
  return (
    <div className={record.field}>
      <label htmlFor={id}>Visit of</label>
      <select
        id={id}
        className={record.input}
        value={day}
        onChange={(event) => onDay(event.currentTarget.value)}
      >
        <option value="">no day: blank labels only</option>
        {days.map(([one, finds]) => (
          <option key={one} value={one}>
            {one}, {countText(finds, 'find')}
          </option>
        ))}
      </select>
    </div>
  )
}

/** A scanner types a number and Enter; so may a person. */
function ScanField({ onRead }: { readonly onRead: (text: string) => void }) {
  const id = useId()
  const input = useRef<HTMLInputElement>(null)
  const take = (event: FormEvent): void => {
    event.preventDefault()
    const text = input.current?.value.trim() ?? ''
    if (text !== '') onRead(text)
    if (input.current) input.current.value = ''
    input.current?.focus()
  }
  return (
    <form className={record.field} onSubmit={take}>
      <label htmlFor={id}>Scan a bag, or write its number</label>
      <div className={record.line}>
        <input ref={input} id={id} className={record.input} autoComplete="off" />
        <Button type="submit" variant="default">
          In hand
        </Button>
      </div>
    </form>
  )
}

function CheckInLists({
  result,
  known,
}: {
  readonly result: CheckedIn
  readonly known: ReadonlyMap<string, FindRow>
}) {
  const { here, missing, unusedLabels, unexpected, twice } = result
  return (
    <>
      {twice.length > 0 ? (
        <Notice tone="warn">
          Read more than once: {twice.join(', ')}. If two bags bear one number, number one of them anew.
        </Notice>
      ) : null}
      <NumberList title="Missing" numbers={missing} known={known} />
      <NumberList title="Not expected" numbers={unexpected} known={known} />
      <NumberList
        title="In hand, not entered yet"
        numbers={here.filter(({ kind }) => kind === 'label').map(({ number }) => number)}
        known={known}
      />
      <NumberList
        title="In hand"
        numbers={here.filter(({ kind }) => kind === 'find').map(({ number }) => number)}
        known={known}
      />
      <NumberList title="Blank labels not in hand" numbers={unusedLabels} known={known} />
    </>
  )
}

interface NumberListProps {
  readonly title: string
  readonly numbers: readonly string[]
  readonly known: ReadonlyMap<string, FindRow>
}

function NumberList({ title, numbers, known }: NumberListProps) {
  if (numbers.length === 0) return null
  const open = (number: string): void => {
    const row = known.get(number)
    findsView.set('catalogue')
    if (row) goToFind(row)
    else entering.set(true)
  }
  return (
    <Section title={title} aside={String(numbers.length)}>
      <ul className={classes.joins} aria-label={title}>
        {numbers.map((number) => (
          <li key={number}>
            <button type="button" className={classes.find} onClick={() => open(number)}>
              <b>{number}</b> {known.get(number)?.object ?? ''}
            </button>
          </li>
        ))}
      </ul>
    </Section>
  )
}
