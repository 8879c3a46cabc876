import { ActionIcon, Button } from '@mantine/core'
import {
  IconColumns3,
  IconFileSpreadsheet,
  IconFilter,
  IconLayoutGrid,
  IconSortAscending,
  IconSortDescending,
  IconTable,
  IconTags,
} from '@tabler/icons-react'
import { useEffect, useRef, useState } from 'react'
import type { FindRow } from '#contract'
import { openDialog } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { filterColumn } from './filter-state.ts'
import classes from './finds-panel.module.css'
import { asCards, sortOrder } from './finds-state.ts'
import { labelFinds } from './labels-state.ts'
import { allColumns, shownColumns, toggleColumn } from './table-columns.ts'
import { lookAtTable } from './table-state.ts'

/** The catalogue as a table or as cards; this browser remembers which. */
export function ShapeChoice() {
  const cards = useStore(asCards)
  const choices = [
    { name: 'Table', on: !cards, Icon: IconTable },
    { name: 'Cards', on: cards, Icon: IconLayoutGrid },
  ]
  return (
    <fieldset className={classes.shape}>
      <legend className="only-read">The catalogue as</legend>
      {choices.map(({ name, on, Icon }) => (
        <button key={name} type="button" aria-pressed={on} onClick={() => asCards.set(name === 'Cards')}>
          <Icon size={16} aria-hidden="true" />
          {name}
        </button>
      ))}
    </fieldset>
  )
}

/** Filter, order or columns, labels for the finds listed or picked, and a table to take in. */
export function CatalogueTools({ ids }: { readonly ids: readonly number[] }) {
  const cards = useStore(asCards)
  const filtering = useStore(filterColumn)
  return (
    <div className={classes.menu}>
      <Button
        size="compact-sm"
        variant="subtle"
        aria-expanded={filtering !== null}
        leftSection={<IconFilter size={16} aria-hidden="true" />}
        onClick={() => filterColumn.set(filtering === null ? 'object' : null)}
      >
        Filter
      </Button>
      {cards ? <OrderChoice /> : <ColumnsMenu />}
      <Button
        size="compact-sm"
        variant="subtle"
        leftSection={<IconTags size={16} aria-hidden="true" />}
        onClick={() => {
          labelFinds.set(ids)
          openDialog.set('labels')
        }}
      >
        Labels
      </Button>
      <TableButton />
    </div>
  )
}

/** By what the cards are sorted, since they have no heads to press. */
function OrderChoice() {
  const { column, descending } = useStore(sortOrder)
  return (
    <span className={classes.order}>
      <select
        aria-label="Sort by"
        value={column}
        onChange={(event) =>
          sortOrder.set({ column: event.currentTarget.value as keyof FindRow, descending })
        }
      >
        {allColumns.map(({ key, title }) => (
          <option key={key} value={key}>
            {title}
          </option>
        ))}
      </select>
      <ActionIcon
        size="sm"
        aria-label={descending ? 'Last first' : 'First first'}
        title={descending ? 'Last first' : 'First first'}
        onClick={() => sortOrder.set({ column, descending: !descending })}
      >
        {descending ? (
          <IconSortDescending size={16} aria-hidden="true" />
        ) : (
          <IconSortAscending size={16} aria-hidden="true" />
        )}
      </ActionIcon>
    </span>
  )
}

/** Which columns are shown. */
function ColumnsMenu() {
  const shown = useStore(shownColumns)
  const [open, setOpen] = useState(false)
  const box = useRef<HTMLDivElement>(null)
  useEffect(() => {
    if (!open) return
    const close = (event: Event): void => {
      if (!box.current?.contains(event.target as Node)) setOpen(false)
    }
    document.addEventListener('pointerdown', close)
    return () => document.removeEventListener('pointerdown', close)
  }, [open])
  return (
    <div ref={box} className={classes.below}>
      <Button
        size="compact-sm"
        variant="subtle"
        aria-expanded={open}
        leftSection={<IconColumns3 size={16} aria-hidden="true" />}
        onClick={() => setOpen(!open)}
      >
        Columns
      </Button>
      {open ? (
        <fieldset
          className={classes.columns}
          onKeyDown={(event) => {
            if (event.key !== 'Escape') return
            event.stopPropagation()
            setOpen(false)
          }}
        >
          <legend className="only-read">Columns shown</legend>
          {allColumns.map(({ key, title }) => (
            <label key={key}>
              <input
                type="checkbox"
                checked={shown.has(key)}
                disabled={key === 'number'}
                onChange={() => toggleColumn(key)}
              />
              {title}
            </label>
          ))}
        </fieldset>
      ) : null}
    </div>
  )
}

/** Chooses a table of finds; what it would do is shown before it is taken in. */
function TableButton() {
  const chooser = useRef<HTMLInputElement>(null)
  return (
    <>
      <Button
        size="compact-sm"
        variant="subtle"
        leftSection={<IconFileSpreadsheet size={16} aria-hidden="true" />}
        onClick={() => chooser.current?.click()}
      >
        Table in
      </Button>
      <input
        ref={chooser}
        type="file"
        accept=".csv,.tsv,.txt,.xlsx"
        hidden
        aria-label="Table of finds"
        data-testid="table-input"
        onChange={({ currentTarget }) => {
          const [file] = currentTarget.files ?? []
          currentTarget.value = ''
          if (file) lookAtTable(file)
        }}
      />
    </>
  )
}
