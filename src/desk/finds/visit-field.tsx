import { useId } from 'react'
import type { FindView, RecordPatch } from '#contract'
import { visitNames } from '#core/finds'
import { useList } from '../api/queries.ts'
import classes from './record.module.css'

interface VisitFieldProps {
  readonly find: FindView
  readonly onChange: (patch: RecordPatch) => void
}

/** The visit that found it: the one its time tells, unless another is chosen. */
export function VisitField({ find: { record, place }, onChange }: VisitFieldProps) {
  const id = useId()
  const names = visitNames(useList('visits'))
  const byTime = place?.visit == null ? null : (names.get(place.visit) ?? null)
  const gone = record.visit !== null && !names.has(record.visit)
  return (
    <div className={classes.field}>
      <label htmlFor={id}>Visit</label>
      <select
        id={id}
        className={classes.input}
        value={record.visit ?? ''}
        onChange={({ currentTarget: { value } }) => onChange({ visit: value === '' ? null : value })}
      >
        <option value="">{byTime === null ? 'not known' : `${byTime}, by its time`}</option>
        {[...names].map(([uuid, name]) => (
          <option key={uuid} value={uuid}>
            {name}
          </option>
        ))}
        {gone ? <option value={record.visit!}>a visit that is no longer here</option> : null}
      </select>
    </div>
  )
}
