import { Button } from '@mantine/core'
import { type FormEvent, useId, useState } from 'react'
import type { FindView, History } from '#contract'
import { type EventKind, eventKinds } from '#core/finds'
import { momentText, Section } from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { changed, useHistory } from './finds-data.ts'
import classes from './record.module.css'

const kindWords: Readonly<Record<EventKind, string>> = {
  found: 'Found',
  bagged: 'Bagged',
  cleaned: 'Cleaned',
  weighed: 'Weighed',
  shown: 'Shown to',
  reported: 'Reported to',
  returned: 'Returned to',
  other: 'Other',
}

function entryText(entry: History[number]): string {
  if (entry.kind === 'change') {
    const fields = entry.fields.map(({ label, before, after }) =>
      before === '' ? `${label}: ${after}` : `${label}: ${before} → ${after === '' ? 'nothing' : after}`,
    )
    return [entry.what ?? '', ...fields].join('. ')
  }
  const who = entry.who === null || entry.who === '' ? '' : ` ${entry.who}`
  const day = entry.happenedOn === null ? '' : `, ${entry.happenedOn.slice(0, 10)}`
  const note = entry.note === null || entry.note === '' ? '' : `. ${entry.note}`
  return `${kindWords[entry.kind]}${who}${day}${note}`
}

/** What happened to a find, newest first, and a form to add to it. Nothing of it is ever written over. */
export function HistoryList({ find }: { readonly find: FindView }) {
  const history = useHistory(find.id)
  return (
    <Section title="History">
      <EventForm ids={[find.id]} />
      <ol className={classes.history} data-testid="history">
        {history.map((entry, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: entries have no id and only ever grow at the front.
          <li key={history.length - i} data-event={entry.kind === 'change' ? undefined : true}>
            {entryText(entry)}
            <br />
            <span className={classes.soft}>
              {momentText(entry.at)}
              {entry.by === null ? ', by another program' : `, ${entry.by}`}
            </span>
          </li>
        ))}
      </ol>
    </Section>
  )
}

/** Adds one entry to the history of these finds. */
export function EventForm({ ids }: { readonly ids: readonly number[] }) {
  const id = useId()
  const [kind, setKind] = useState<EventKind>('cleaned')
  const [who, setWho] = useState('')
  const [note, setNote] = useState('')
  const [day, setDay] = useState(() => new Date().toISOString().slice(0, 10))
  const add = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    const happenedOn = day === '' ? null : day
    const entry = { kind, happenedOn, who: who.trim() || null, note: note.trim() || null }
    if (!(await changed(() => findsApi.addEvent({ ids: [...ids], ...entry })))) return
    setWho('')
    setNote('')
  }
  return (
    <form className={classes.card} onSubmit={(event) => void add(event)}>
      <div className={classes.fields}>
        <div className={classes.field}>
          <label htmlFor={`${id}-kind`}>What happened</label>
          <select
            id={`${id}-kind`}
            className={classes.input}
            value={kind}
            onChange={(event) => setKind(event.currentTarget.value as EventKind)}
          >
            {eventKinds.map((one) => (
              <option key={one} value={one}>
                {kindWords[one]}
              </option>
            ))}
          </select>
        </div>
        <div className={classes.field}>
          <label htmlFor={`${id}-who`}>By or to whom</label>
          <input
            id={`${id}-who`}
            className={classes.input}
            value={who}
            onChange={(event) => setWho(event.currentTarget.value)}
          />
        </div>
        <div className={classes.field}>
          <label htmlFor={`${id}-day`}>On</label>
          <input
            id={`${id}-day`}
            type="date"
            className={classes.input}
            value={day}
            onChange={(event) => setDay(event.currentTarget.value)}
          />
        </div>
        <div className={classes.field}>
          <label htmlFor={`${id}-note`}>Note</label>
          <input
            id={`${id}-note`}
            className={classes.input}
            value={note}
            onChange={(event) => setNote(event.currentTarget.value)}
          />
        </div>
      </div>
      <div className={classes.buttons}>
        <Button type="submit" variant="default">
          Add to the history
        </Button>
      </div>
    </form>
  )
}
