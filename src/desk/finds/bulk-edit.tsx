import { Button } from '@mantine/core'
import { type FormEvent, useId, useState } from 'react'
import { findFields } from '#core/finds'
import { Notice } from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { tell } from '../state/notices.ts'
import { undoLast } from '../survey/undo.ts'
import { type EditableField, patchFromText } from './field-text.ts'
import { changed, useJoins } from './finds-data.ts'
import { picked } from './finds-state.ts'
import { EventForm } from './history-list.tsx'
import { joinFinds, partFinds } from './join-groups.tsx'
import classes from './record.module.css'

const fields = (Object.keys(findFields) as (keyof typeof findFields)[]).filter(
  (field): field is Exclude<EditableField, 'number'> => !['number', 'findspot', 'visit'].includes(field),
)

/** One change, one entry of history, or removal, for all finds that are picked. */
export function BulkEdit({ ids }: { readonly ids: readonly number[] }) {
  const id = useId()
  const [field, setField] = useState<EditableField>('materials')
  const [text, setText] = useState('')
  const [fault, setFault] = useState<string | null>(null)
  const many = `${ids.length} find${ids.length === 1 ? '' : 's'}`
  const undo = { label: 'Undo', run: () => void undoLast() }
  const change = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    const answer = patchFromText(field, text)
    setFault('refused' in answer ? answer.refused : null)
    if ('refused' in answer) return
    if (!(await changed(() => findsApi.changeMany({ ids: [...ids], record: answer.patch })))) return
    setText('')
    tell('good', `Changed ${many}.`, undo)
  }
  const remove = async (): Promise<void> => {
    if (!(await changed(() => findsApi.remove(ids)))) return
    picked.set(new Set())
    tell('good', `Removed ${many}.`, undo)
  }
  return (
    <section className={classes.card} aria-label="Finds picked" data-testid="bulk-edit">
      <div className={classes.head}>
        <h2 className={classes.title}>{many} picked</h2>
        <Button size="compact-sm" variant="default" onClick={() => picked.set(new Set())}>
          Pick none
        </Button>
        <JoinButtons ids={ids} />
        <Button size="compact-sm" variant="default" color="clay" onClick={() => void remove()}>
          Remove
        </Button>
      </div>
      <form className={classes.fields} onSubmit={(event) => void change(event)}>
        <div className={classes.field}>
          <label htmlFor={`${id}-field`}>Field</label>
          <select
            id={`${id}-field`}
            className={classes.input}
            value={field}
            onChange={(event) => setField(event.currentTarget.value as EditableField)}
          >
            {fields.map((one) => (
              <option key={one} value={one}>
                {findFields[one].label}
              </option>
            ))}
          </select>
        </div>
        <div className={classes.field}>
          <label htmlFor={`${id}-text`}>Becomes</label>
          <input
            id={`${id}-text`}
            className={classes.input}
            value={text}
            placeholder="empty: nothing"
            onChange={(event) => setText(event.currentTarget.value)}
          />
        </div>
        <div className={classes.buttons}>
          <Button type="submit">Change {many}</Button>
        </div>
      </form>
      {fault ? <Notice tone="fault">{fault}</Notice> : null}
      <details>
        <summary>Add to their history</summary>
        <EventForm ids={ids} />
      </details>
    </section>
  )
}

const mostJoined = 200

/** Joins what is picked as pieces of one object, or parts what is joined. */
function JoinButtons({ ids }: { readonly ids: readonly number[] }) {
  const joins = useJoins()
  if (ids.length < 2 || ids.length > mostJoined) return null
  const among = new Set(ids)
  const joined = joins.some(
    ({ state, first, second }) => state === 'accepted' && among.has(first) && among.has(second),
  )
  return (
    <>
      <Button size="compact-sm" variant="default" onClick={() => void joinFinds(ids)}>
        Join as one object
      </Button>
      {joined ? (
        <Button size="compact-sm" variant="default" onClick={() => void partFinds(ids)}>
          Part
        </Button>
      ) : null}
    </>
  )
}
