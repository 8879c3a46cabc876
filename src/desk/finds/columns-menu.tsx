import { Button } from '@mantine/core'
import { IconColumns3, IconFileSpreadsheet, IconTags } from '@tabler/icons-react'
import { useEffect, useRef, useState } from 'react'
import { openDialog } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import classes from './finds-panel.module.css'
import { labelFinds } from './labels-state.ts'
import { allColumns, shownColumns, toggleColumn } from './table-columns.ts'
import { lookAtTable } from './table-state.ts'

/** Which columns are shown, and labels for the finds listed or picked. */
export function ColumnsMenu({ ids }: { readonly ids: readonly number[] }) {
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
    <div ref={box} className={classes.menu}>
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
