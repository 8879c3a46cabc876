import { useId, useState } from 'react'
import { lengthText } from '#ui'
import type { Recorder } from '../walk/recorder.ts'
import type { Mark } from '../walk/walk.ts'
import classes from './field-page.module.css'

interface MarkListProps {
  readonly recorder: Recorder
  readonly marks: readonly Mark[]
}

/** The findspots of this walk, newest first, each with room for a few words. */
export function MarkList({ recorder, marks }: MarkListProps) {
  const id = useId()
  return (
    <section aria-labelledby={id}>
      <h2 id={id} className={classes.heading}>
        Findspots on this walk: {marks.length}
      </h2>
      <ol className={classes.list}>
        {marks.map((mark) => (
          <MarkRow key={mark.n} recorder={recorder} mark={mark} />
        ))}
      </ol>
    </section>
  )
}

function MarkRow({ recorder, mark }: { readonly recorder: Recorder; readonly mark: Mark }) {
  const id = useId()
  const [removing, setRemoving] = useState(false)
  return (
    <li className={classes.item}>
      <label className={classes.label} htmlFor={id}>
        {mark.n} · {timeText(mark.time)} · ± {lengthText(mark.fix.accuracyM)}
      </label>
      <input
        id={id}
        className={classes.input}
        defaultValue={mark.text}
        maxLength={200}
        placeholder="bag number, what, how deep"
        autoComplete="off"
        enterKeyHint="done"
        onChange={(event) => void recorder.describeMark(mark.n, event.target.value)}
      />
      {removing ? (
        <div className={classes.pair}>
          <button type="button" className={classes.danger} onClick={() => void recorder.removeMark(mark.n)}>
            Yes, take out {mark.n}
          </button>
          <button type="button" className={classes.second} onClick={() => setRemoving(false)}>
            Keep it
          </button>
        </div>
      ) : (
        <button type="button" className={classes.quiet} onClick={() => setRemoving(true)}>
          Take out findspot {mark.n}
        </button>
      )}
    </li>
  )
}

function timeText(time: number): string {
  return new Date(time).toLocaleTimeString('en-GB')
}
