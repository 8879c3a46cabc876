import { useId, useState } from 'react'
import type { RecordPatch } from '#contract'
import { spanText } from '#core/dating'
import type { FindRecord } from '#core/finds'
import type { Words } from './finds-data.ts'
import classes from './record.module.css'

interface DateFieldProps {
  readonly record: FindRecord
  readonly words: Words | null
  readonly onChange: (patch: RecordPatch) => void
}

/** The span that a record has, in words. */
function dateText({ fromYear, toYear }: Pick<FindRecord, 'fromYear' | 'toYear'>): string {
  if (fromYear !== null && toYear !== null && fromYear <= toYear)
    return spanText({ from: fromYear, to: toYear })
  if (fromYear !== null) return `from ${fromYear}`
  return toYear === null ? '' : `up to ${toYear}`
}

/**
 * A box that understands a date as it is written (1200 BC, late 2nd century, Iron Age to Roman) and fills in the years, the certainty and the
 * period from it. What may mean two things is asked about; what was taken without being written is told.
 */
export function DateField({ record, words, onChange }: DateFieldProps) {
  const id = useId()
  const [text, setText] = useState('')
  const [said, setSaid] = useState<{ readonly fault: boolean; readonly text: string } | null>(null)
  const settle = (): void => {
    if (text.trim() === '' || words === null) return
    const read = words.readDate(text)
    if ('refused' in read) {
      setSaid({ fault: true, text: read.refused })
      return
    }
    const { from, to, certainty, period, assumed } = read
    onChange({
      fromYear: from,
      toYear: to,
      ...(certainty === null ? {} : { certainty }),
      ...(period === null ? {} : { period: { text: period.name, term: period.key } }),
    })
    setText('')
    setSaid(assumed.length === 0 ? null : { fault: false, text: assumed.join(' ') })
  }
  const now = dateText(record)
  return (
    <div className={classes.field} data-wide>
      <label htmlFor={id}>Date, as written</label>
      <input
        id={id}
        className={classes.input}
        value={text}
        autoComplete="off"
        placeholder={now === '' ? 'such as late 2nd century, or 1200-800 BC' : now}
        aria-invalid={said?.fault ?? false}
        aria-describedby={`${id}-said`}
        onChange={(event) => setText(event.currentTarget.value)}
        onBlur={settle}
        onKeyDown={(event) => {
          if (event.key === 'Enter') settle()
        }}
      />
      <p
        id={`${id}-said`}
        className={said?.fault ? classes.wrong : classes.hint}
        role={said?.fault ? 'alert' : undefined}
      >
        {said?.text ?? (now === '' ? '' : `Now ${now}`)}
      </p>
    </div>
  )
}
