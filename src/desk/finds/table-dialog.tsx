import { Button } from '@mantine/core'
import { useEffect, useState } from 'react'
import type { FindsTableReply, TableColumn } from '#contract'
import { countText, Notice } from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { sentenceOf } from '../api/request.ts'
import { openDialog } from '../state/desk-state.ts'
import { tell } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import dialogs from '../survey/dialogs.module.css'
import { undoLast } from '../survey/undo.ts'
import { changed } from './finds-data.ts'
import classes from './record.module.css'
import { rememberColumns, rememberedColumns, tableFile } from './table-state.ts'

const mostListed = 50

/** A table of finds before it is taken in: how its columns are read, and what it would add and change. */
export function TableDialog() {
  const file = useStore(tableFile)
  const [look, setLook] = useState<FindsTableReply | null>(null)
  const [fault, setFault] = useState<string | null>(null)
  const [busy, setBusy] = useState(false)
  useEffect(() => {
    if (file === null) return
    let gone = false
    lookAt(file)
      .then((reply) => gone || setLook(reply))
      .catch((error: unknown) => gone || setFault(sentenceOf(error)))
    return () => {
      gone = true
    }
  }, [file])
  if (file === null) return null
  const read = (columns: readonly TableColumn[]): void => {
    findsApi
      .table(file, { columns })
      .then(setLook)
      .catch((error: unknown) => setFault(sentenceOf(error)))
  }
  const take = async (): Promise<void> => {
    if (look === null) return
    setBusy(true)
    rememberColumns(look)
    const done = await changed(() => findsApi.table(file, { columns: look.columns, write: true }))
    setBusy(false)
    if (!done) return
    const came = `${countText(look.adds, 'find')} added, ${look.changes} changed`
    tell('good', `${file.name}: ${came}.`, { label: 'Undo', run: () => void undoLast() })
    openDialog.set(null)
  }
  const nothing = look !== null && look.adds + look.changes === 0
  return (
    <div className={dialogs.stack} data-testid="table-dialog">
      {fault ? <Notice tone="fault">{fault}</Notice> : null}
      {look ? (
        <>
          <p role="status">
            {file.name}: {countText(look.adds, 'find')} to add, {look.changes} to change, {look.same} the
            same.
          </p>
          <ColumnTable look={look} onRead={read} />
          <Outcome look={look} />
        </>
      ) : fault ? null : (
        <p role="status">Reading {file.name} …</p>
      )}
      <Button disabled={look === null || nothing} loading={busy} onClick={() => void take()}>
        {nothing ? 'Nothing to take in' : 'Take it in'}
      </Button>
    </div>
  )
}

/** Looks at a table, with its columns read as they were the last time that a table had these headings. */
async function lookAt(file: File): Promise<FindsTableReply> {
  const first = await findsApi.table(file, {})
  const columns = rememberedColumns(first)
  return columns === null ? first : findsApi.table(file, { columns })
}

interface ColumnTableProps {
  readonly look: FindsTableReply
  readonly onRead: (columns: readonly TableColumn[]) => void
}

function ColumnTable({ look, onRead }: ColumnTableProps) {
  const { columns, choices } = look
  return (
    <details open={columns.some(({ column, heading }) => column === null && heading.trim() !== '')}>
      <summary>How the columns are read</summary>
      <div className={classes.fields}>
        {columns.map(({ heading, column }, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a column is known by its place; headings may be alike.
          <label key={i} className={classes.field}>
            <span>{heading.trim() === '' ? `Column ${i + 1}` : heading}</span>
            <select
              className={classes.input}
              value={column ?? ''}
              onChange={({ currentTarget: { value } }) =>
                onRead(
                  columns.map((one, at) =>
                    at === i
                      ? {
                          ...one,
                          column: value === '' ? null : value,
                          unit: value === one.column ? one.unit : null,
                        }
                      : one,
                  ),
                )
              }
            >
              <option value="">left out</option>
              {choices.map((choice) => (
                <option key={choice.column} value={choice.column}>
                  {choice.label}
                </option>
              ))}
            </select>
          </label>
        ))}
      </div>
    </details>
  )
}

function Outcome({ look }: { readonly look: FindsTableReply }) {
  const { added, changed: changes, conflicts, faults } = look
  return (
    <>
      {conflicts.length > 0 ? (
        <Notice tone="warn">
          <ul className={classes.care}>
            {conflicts.slice(0, mostListed).map(({ line, text }) => (
              <li key={line}>
                Line {line}: {text}
              </li>
            ))}
          </ul>
        </Notice>
      ) : null}
      <Lines
        title={`To change (${look.changes})`}
        lines={changes.map(({ number, fields }) => {
          const parts = fields.map(
            ({ label, before, after }) => `${label}: ${before || 'nothing'} → ${after || 'nothing'}`,
          )
          return `${number}: ${parts.join('; ')}`
        })}
      />
      <Lines
        title={`To add (${look.adds})`}
        lines={added.map(({ number, object }) =>
          [number || 'a fresh number', object].filter(Boolean).join(', '),
        )}
      />
      <Lines
        title={`Not understood, or assumed (${faults.length})`}
        lines={faults.map(({ line, text }) => (line === null ? text : `Line ${line}: ${text}`))}
      />
    </>
  )
}

function Lines({ title, lines }: { readonly title: string; readonly lines: readonly string[] }) {
  if (lines.length === 0) return null
  return (
    <details>
      <summary>{title}</summary>
      <ul className={classes.care}>
        {lines.slice(0, mostListed).map((line, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: lines may be alike, and are never reordered.
          <li key={i}>{line}</li>
        ))}
      </ul>
    </details>
  )
}
