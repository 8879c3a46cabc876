import { Button } from '@mantine/core'
import { useId, useState } from 'react'
import type { FindView } from '#contract'
import { measuredText, Section } from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { tellFault } from '../state/notices.ts'
import { useFinds, useJoins } from './finds-data.ts'
import { joinFinds, openJoined, partFinds, whatText } from './join-groups.tsx'
import joins from './joins-review.module.css'
import classes from './record.module.css'

/** The finds that one find is joined with, and another to join it with by its number. */
export function JoinedWith({ find: { id } }: { readonly find: FindView }) {
  const field = useId()
  const rows = useFinds()
  const [text, setText] = useState('')
  const joined = useJoins().flatMap(({ state, first, second, distanceM }) => {
    if (state !== 'accepted' || (first !== id && second !== id)) return []
    const other = rows.find((row) => row.id === (first === id ? second : first))
    return other ? [{ other, distanceM }] : []
  })
  const join = async (): Promise<void> => {
    if (text.trim() === '') return
    try {
      const other = await findsApi.named(text)
      if (await joinFinds([id, other.id])) setText('')
    } catch (error) {
      tellFault(error)
    }
  }
  return (
    <Section title="Joined with" aside={joined.length > 0 ? String(joined.length) : undefined}>
      {joined.length > 0 ? (
        <ul className={joins.links} aria-label="Joined with">
          {joined.map(({ other, distanceM }) => (
            <li key={other.id}>
              <button type="button" className={joins.find} onClick={() => openJoined(other)}>
                <b>{other.number}</b> {whatText(other)}
                {distanceM === null ? '' : `, ${measuredText(distanceM)} apart`}
              </button>
              <Button
                size="compact-sm"
                variant="subtle"
                aria-label={`Part from ${other.number}`}
                onClick={() => void partFinds([id, other.id])}
              >
                Part
              </Button>
            </li>
          ))}
        </ul>
      ) : null}
      <form
        className={classes.line}
        onSubmit={(event) => {
          event.preventDefault()
          void join()
        }}
      >
        <label className="only-read" htmlFor={field}>
          Number of a find that joins it
        </label>
        <input
          id={field}
          className={classes.input}
          value={text}
          autoComplete="off"
          placeholder="Number of a find that joins it"
          onChange={(event) => setText(event.currentTarget.value)}
        />
        <Button type="submit" variant="default">
          Join
        </Button>
      </form>
    </Section>
  )
}
