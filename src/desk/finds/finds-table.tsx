import { IconFilter, IconSortAscending, IconSortDescending } from '@tabler/icons-react'
import {
  type CSSProperties,
  type KeyboardEvent,
  type RefObject,
  useEffect,
  useId,
  useRef,
  useState,
} from 'react'
import type { FindRow, RecordPatch } from '#contract'
import { rowForKey, rowWindow, useScroll } from '#ui'
import { tell } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import { useWide } from '../state/wide.ts'
import { CellEditor } from './cell-editor.tsx'
import { patchFromText } from './field-text.ts'
import { columnFilters, filterColumn } from './filter-state.ts'
import { openFind, picked, picksAll, sortOrder, togglePicked } from './finds-state.ts'
import classes from './finds-table.module.css'
import { allColumns, type FindsColumn, shownColumns } from './table-columns.ts'

const rowHeight = 36
const headHeight = 36
const pickWidth = 40
const narrowColumns = 3

interface FindsTableProps {
  readonly rows: readonly FindRow[]
  readonly onOpen: (row: FindRow) => void
  /** Changes one find; false where that failed. */
  readonly onEdit: (row: FindRow, patch: RecordPatch) => Promise<boolean>
}

interface Spot {
  readonly row: number
  readonly column: number
}

function columnForKey(key: string, column: number, columns: number): number | null {
  if (key === 'ArrowLeft') return Math.max(0, column - 1)
  if (key === 'ArrowRight') return Math.min(columns - 1, column + 1)
  return null
}

interface Cells {
  readonly current: Spot
  readonly editing: string | null
  readonly onKeyDown: (event: KeyboardEvent) => void
  readonly onEnd: (text: string | null) => void
  /** Puts the keys on a cell, without opening it. */
  readonly stand: (spot: Spot) => void
  readonly edit: (spot: Spot) => void
}

/** Changes the cell that the keys stand on, and gives the keys back to the table. */
async function keepCell(
  text: string | null,
  row: FindRow | undefined,
  column: FindsColumn | undefined,
  onEdit: FindsTableProps['onEdit'],
): Promise<void> {
  if (text === null || !row || !column?.field || text.trim() === column.text(row)) return
  const answer = patchFromText(column.field, text)
  if ('refused' in answer) {
    tell('fault', answer.refused)
    return
  }
  if (answer.told !== null) tell('plain', answer.told)
  await onEdit(row, answer.patch)
}

/** The cell that the keys stand on, and what the keys do there. */
function useCells(
  { rows, onOpen, onEdit }: FindsTableProps,
  columns: readonly FindsColumn[],
  box: RefObject<HTMLDivElement | null>,
  page: number,
): Cells {
  const [at, setAt] = useState<Spot>({ row: 0, column: 0 })
  const [editing, setEditing] = useState<string | null>(null)
  const open = useStore(openFind)
  const openRow = open === null ? -1 : rows.findIndex((row) => row.id === open)
  useEffect(() => {
    if (openRow < 0) return
    setAt((now) => ({ ...now, row: openRow }))
    bringIntoSight(box.current, openRow)
  }, [box, openRow])
  const current: Spot = {
    row: Math.min(at.row, Math.max(0, rows.length - 1)),
    column: Math.min(at.column, columns.length - 1),
  }
  const goTo = (spot: Spot): void => {
    setAt(spot)
    bringIntoSight(box.current, spot.row)
    const cell = box.current?.querySelector(`[data-column="${spot.column}"]`)
    cell?.scrollIntoView({ block: 'nearest', inline: 'nearest' })
  }
  const edit = (spot: Spot, text?: string): boolean => {
    const [row, column] = [rows[spot.row], columns[spot.column]]
    if (!row || !column?.field) return false
    setAt(spot)
    setEditing(text ?? column.text(row))
    return true
  }
  const onEnd = (text: string | null): void => {
    setEditing(null)
    box.current?.querySelector<HTMLElement>('[role="grid"]')?.focus()
    void keepCell(text, rows[current.row], columns[current.column], onEdit)
  }
  const acted = (event: KeyboardEvent): boolean => {
    const row = rowForKey(event.key, current.row, rows.length, page)
    const column = columnForKey(event.key, current.column, columns.length)
    const here = rows[current.row]
    if (row !== null) goTo({ ...current, row })
    else if (column !== null) goTo({ ...current, column })
    else if (event.key === 'Enter' && here) onOpen(here)
    else if (event.key === ' ' && here) togglePicked([here.id])
    else if (event.key === 'F2') edit(current)
    else if (picksAll(event)) picked.set(new Set(rows.map(({ id }) => id)))
    else return isCharacter(event) && edit(current, event.key)
    return true
  }
  const onKeyDown = (event: KeyboardEvent): void => {
    // A button of the head has its own keys.
    if (editing !== null || event.target !== event.currentTarget || !acted(event)) return
    event.preventDefault()
    event.stopPropagation()
  }
  return { current, editing, onKeyDown, onEnd, stand: setAt, edit }
}

/**
 * The finds as a table of any length: only the rows in sight are drawn. One stop of the Tab key; arrows, Page, Home and End move from cell to cell, Enter
 * opens the find, F2 or typing changes the cell, Space picks the row. Cost of a scroll step: the rows in sight.
 */
export function FindsTable(props: FindsTableProps) {
  const { rows, onOpen } = props
  const id = useId()
  const box = useRef<HTMLDivElement>(null)
  const { top, height } = useScroll(box)
  const shown = useStore(shownColumns)
  const roomy = useWide()
  const wanted = allColumns.filter(({ key }) => shown.has(key))
  // A phone shows what fits without sideways scrolling; the record has the rest.
  const columns = roomy ? wanted : wanted.slice(0, narrowColumns)
  const open = useStore(openFind)
  const chosen = useStore(picked)
  const page = Math.max(1, Math.floor(height / rowHeight) - 2)
  const { current, editing, onKeyDown, onEnd, stand, edit } = useCells(props, columns, box, page)
  const { first, end } = rowWindow(rows.length, rowHeight, top, height)
  const inSight = current.row >= first && current.row < end
  const width = pickWidth + columns.reduce((sum, column) => sum + column.width, 0)
  return (
    <div ref={box} className={classes.box}>
      <table
        className={classes.grid}
        // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: WAI-ARIA allows a grid upon a table.
        role="grid"
        aria-label="Finds"
        aria-rowcount={rows.length + 1}
        aria-colcount={columns.length + 1}
        aria-multiselectable="true"
        aria-activedescendant={inSight ? `${id}-${current.row}-${current.column}` : undefined}
        tabIndex={0}
        onKeyDown={onKeyDown}
        data-testid="finds-table"
        style={{ '--row-height': `${rowHeight}px`, minWidth: roomy ? width : undefined } as CSSProperties}
      >
        <Head columns={columns} rows={rows} fitted={!roomy} />
        <tbody>
          <Spacer rows={first} />
          {rows.slice(first, end).map((row, i) => (
            <Row
              key={row.id}
              id={id}
              index={first + i}
              row={row}
              columns={columns}
              picked={chosen.has(row.id)}
              open={row.id === open}
              current={first + i === current.row ? current.column : null}
              editing={first + i === current.row ? editing : null}
              onEnd={onEnd}
              onCell={(column) => {
                stand({ row: first + i, column })
                onOpen(row)
              }}
              onEdit={(column) => edit({ row: first + i, column })}
            />
          ))}
          <Spacer rows={rows.length - end} />
        </tbody>
      </table>
    </div>
  )
}

/** A key that writes something; a space picks instead. */
function isCharacter({ key, ctrlKey, metaKey, altKey }: KeyboardEvent): boolean {
  return key.length === 1 && key !== ' ' && !ctrlKey && !metaKey && !altKey
}

function bringIntoSight(element: HTMLElement | null, row: number): void {
  if (!element) return
  const top = row * rowHeight
  const room = element.clientHeight - headHeight
  if (top < element.scrollTop) element.scrollTop = top
  else if (top + rowHeight > element.scrollTop + room) element.scrollTop = top + rowHeight - room
}

/** The room of rows that are not drawn. */
function Spacer({ rows }: { readonly rows: number }) {
  // biome-ignore lint/a11y/noAriaHiddenOnFocusable: a row of room is no row, and takes no focus.
  return rows > 0 ? <tr aria-hidden="true" style={{ height: rows * rowHeight }} /> : null
}

interface HeadProps {
  readonly columns: readonly FindsColumn[]
  readonly rows: readonly FindRow[]
  /** True where all but the first column share the room there is. */
  readonly fitted: boolean
}

function Head({ columns, rows, fitted }: HeadProps) {
  const order = useStore(sortOrder)
  const filters = useStore(columnFilters)
  const chosen = useStore(picked)
  const all = rows.length > 0 && rows.every(({ id }) => chosen.has(id))
  return (
    <thead>
      <tr aria-rowindex={1}>
        <th scope="col" style={{ width: pickWidth }}>
          <input
            type="checkbox"
            tabIndex={-1}
            aria-label="Pick all that are listed"
            checked={all}
            onChange={() => picked.set(new Set(all ? [] : rows.map(({ id }) => id)))}
          />
        </th>
        {columns.map(({ key, title, width, number }, i) => {
          const sorted = order.column === key
          return (
            <th
              key={key}
              scope="col"
              style={{ width: fitted && i > 0 ? undefined : width }}
              data-number={number || undefined}
              aria-sort={sorted ? (order.descending ? 'descending' : 'ascending') : undefined}
            >
              <button
                type="button"
                className={classes.sort}
                title={`Sort by ${title}`}
                onClick={() => sortOrder.set({ column: key, descending: sorted && !order.descending })}
              >
                {title}
                {sorted ? (
                  order.descending ? (
                    <IconSortDescending size={14} aria-hidden="true" />
                  ) : (
                    <IconSortAscending size={14} aria-hidden="true" />
                  )
                ) : null}
              </button>
              {filters[key] ? (
                <button
                  type="button"
                  className={classes.filtered}
                  aria-label={`Filter on ${title}`}
                  title={`Filter on ${title}`}
                  onClick={() => filterColumn.set(key)}
                >
                  <IconFilter size={14} aria-hidden="true" />
                </button>
              ) : null}
            </th>
          )
        })}
      </tr>
    </thead>
  )
}

interface RowProps {
  readonly id: string
  readonly index: number
  readonly row: FindRow
  readonly columns: readonly FindsColumn[]
  readonly picked: boolean
  readonly open: boolean
  /** The column that the keys stand on, in this row only. */
  readonly current: number | null
  readonly editing: string | null
  readonly onEnd: (text: string | null) => void
  readonly onCell: (column: number) => void
  readonly onEdit: (column: number) => void
}

function Row(props: RowProps) {
  const { id, index, row, columns, open, current, editing, onEnd, onCell, onEdit } = props
  return (
    <tr
      className={classes.row}
      aria-rowindex={index + 2}
      aria-selected={props.picked}
      data-open={open || undefined}
    >
      <td className={classes.pick}>
        <input
          type="checkbox"
          tabIndex={-1}
          aria-label={`Pick ${row.number}`}
          checked={props.picked}
          onChange={() => togglePicked([row.id])}
        />
      </td>
      {columns.map((column, i) => (
        // biome-ignore lint/a11y/useKeyWithClickEvents: the grid takes the keys for its cells.
        <td
          key={column.key}
          id={`${id}-${index}-${i}`}
          data-number={column.number || undefined}
          data-column={current === null ? undefined : i}
          data-current={current === i || undefined}
          onClick={() => onCell(i)}
          onDoubleClick={() => onEdit(i)}
        >
          {current === i && editing !== null ? (
            <CellEditor label={`${column.title} of ${row.number}`} text={editing} onEnd={onEnd} />
          ) : (
            column.text(row)
          )}
        </td>
      ))}
    </tr>
  )
}
