import { Button } from '@mantine/core'
import { IconX } from '@tabler/icons-react'
import { useId, useMemo, useState } from 'react'
import type { FindRow } from '#contract'
import { numberFrom } from '#ui'
import { useStore } from '../state/store.ts'
import classes from './filter-bar.module.css'
import { clearFilters, columnFilters, filterColumn, setFilter } from './filter-state.ts'
import { type ColumnFilter, filterKind, filterText, noFilter, valueCounts } from './find-filters.ts'
import record from './record.module.css'
import { allColumns } from './table-columns.ts'

const titles = new Map(allColumns.map(({ key, title }) => [key, title]))
const mostValues = 40

/** The filters that are on, each to be changed or taken away, and the one that is being written. */
export function FilterBar({ rows }: { readonly rows: readonly FindRow[] }) {
  const filters = useStore(columnFilters)
  const column = useStore(filterColumn)
  const active = Object.entries(filters) as [keyof FindRow, ColumnFilter][]
  return (
    <>
      {column === null ? null : <FilterForm key={column} column={column} rows={rows} />}
      {active.length === 0 ? null : (
        <ul className={classes.active} aria-label="Filters that are on" data-testid="filters-on">
          {active.map(([key, filter]) => (
            <li key={key} className={classes.filter}>
              <button type="button" className={classes.told} onClick={() => filterColumn.set(key)}>
                <b>{titles.get(key) ?? key}</b> {filterText(filter)}
              </button>
              <button
                type="button"
                className={classes.away}
                aria-label={`Take the filter on ${titles.get(key) ?? key} away`}
                onClick={() => setFilter(key, noFilter)}
              >
                <IconX size={14} aria-hidden="true" />
              </button>
            </li>
          ))}
          <li>
            <Button size="compact-sm" variant="default" onClick={clearFilters}>
              Show all finds
            </Button>
          </li>
        </ul>
      )}
    </>
  )
}

interface FilterFormProps {
  readonly column: keyof FindRow
  readonly rows: readonly FindRow[]
}

function FilterForm({ column, rows }: FilterFormProps) {
  const id = useId()
  const filter = useStore(columnFilters)[column] ?? noFilter
  const ask = (part: Partial<ColumnFilter>): void => setFilter(column, { ...filter, ...part })
  const kind = filterKind(column)
  return (
    <section
      className={classes.form}
      aria-label="Filter"
      data-testid="filter-form"
      onKeyDown={(event) => {
        if (event.key !== 'Escape') return
        event.stopPropagation()
        filterColumn.set(null)
      }}
    >
      <div className={classes.line}>
        <div className={record.field}>
          <label htmlFor={`${id}-column`}>Column</label>
          <select
            id={`${id}-column`}
            className={record.input}
            value={column}
            onChange={(event) => filterColumn.set(event.currentTarget.value as keyof FindRow)}
          >
            {allColumns.map(({ key, title }) => (
              <option key={key} value={key}>
                {title}
              </option>
            ))}
          </select>
        </div>
        <Button variant="default" onClick={() => filterColumn.set(null)}>
          Done
        </Button>
      </div>
      {kind === 'words' ? (
        <WordsFilter column={column} rows={rows} filter={filter} onAsk={ask} />
      ) : (
        <div className={classes.line}>
          <EndField label="From" kind={kind} value={filter.from} onChange={(from) => ask({ from })} />
          <EndField label="Up to" kind={kind} value={filter.to} onChange={(to) => ask({ to })} />
        </div>
      )}
    </section>
  )
}

interface EndFieldProps {
  readonly label: string
  readonly kind: 'range' | 'days'
  readonly value: number | string | null
  readonly onChange: (value: number | string | null) => void
}

/** One end of a range; what is no number asks nothing yet. */
function EndField({ label, kind, value, onChange }: EndFieldProps) {
  const id = useId()
  const [text, setText] = useState(value === null ? '' : String(value))
  const number = text.trim() === '' ? null : numberFrom(text)
  const wrong = kind === 'range' && text.trim() !== '' && number === null
  return (
    <div className={record.field}>
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        className={record.input}
        type={kind === 'days' ? 'date' : 'text'}
        inputMode={kind === 'range' ? 'decimal' : undefined}
        value={text}
        autoComplete="off"
        aria-invalid={wrong}
        onChange={({ currentTarget }) => {
          setText(currentTarget.value)
          if (kind === 'days') onChange(currentTarget.value || null)
          else onChange(currentTarget.value.trim() === '' ? null : numberFrom(currentTarget.value))
        }}
      />
    </div>
  )
}

interface WordsFilterProps extends FilterFormProps {
  readonly filter: ColumnFilter
  readonly onAsk: (part: Partial<ColumnFilter>) => void
}

/** A text that stands in the column, or values to choose from, the commonest first. */
function WordsFilter({ column, rows, filter, onAsk }: WordsFilterProps) {
  const id = useId()
  const counts = useMemo(() => valueCounts(rows, column), [rows, column])
  const typed = filter.text.trim().toLowerCase()
  const fitting = counts.filter(
    ([value]) => filter.of.includes(value) || typed === '' || value.toLowerCase().includes(typed),
  )
  const toggle = (value: string): void =>
    onAsk({
      of: filter.of.includes(value) ? filter.of.filter((one) => one !== value) : [...filter.of, value],
    })
  // Where each find has its own, as with numbers, there is nothing to choose.
  const choices = counts.length < rows.length || rows.length <= mostValues ? fitting.slice(0, mostValues) : []
  return (
    <>
      <div className={record.field}>
        <label htmlFor={`${id}-text`}>Holds</label>
        <input
          id={`${id}-text`}
          className={record.input}
          value={filter.text}
          autoComplete="off"
          onChange={(event) => onAsk({ text: event.currentTarget.value })}
        />
      </div>
      {choices.length > 0 ? (
        <fieldset className={classes.values}>
          <legend>or is</legend>
          {choices.map(([value, count]) => (
            <label key={value}>
              <input type="checkbox" checked={filter.of.includes(value)} onChange={() => toggle(value)} />
              <span>{value === '' ? 'not recorded' : value}</span>
              <span className={record.soft}>{count}</span>
            </label>
          ))}
          {fitting.length > choices.length ? (
            <p className={record.soft}>and {fitting.length - choices.length} more: type to find them</p>
          ) : null}
        </fieldset>
      ) : null}
    </>
  )
}
