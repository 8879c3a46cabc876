import {
  type CSSProperties,
  type KeyboardEvent,
  type ReactNode,
  type RefObject,
  useEffect,
  useId,
  useRef,
  useState,
} from 'react'
import classes from './data-grid.module.css'
import { rowForKey, rowWindow } from './row-window.ts'

export interface Column<Row> {
  readonly title: string
  /** A CSS width; a column without one shares what is left. */
  readonly width?: string
  readonly number?: boolean
  readonly cell: (row: Row) => ReactNode
}

interface DataGridProps<Row> {
  readonly label: string
  readonly rows: readonly Row[]
  readonly columns: readonly Column<Row>[]
  readonly rowKey: (row: Row) => number
  /** Key of the row that is chosen, here or on the map. */
  readonly chosen: number | null
  readonly onChoose: (row: Row) => void
  readonly style?: CSSProperties
  readonly testId?: string
}

const rowHeight = 40
const headHeight = 36

/** Height of a table that shows `rows` rows whole, pixels: to keep its room before its rows have come. */
export function gridHeight(rows: number): number {
  return headHeight + rows * rowHeight + 2
}

/** How far a box is scrolled, and how high it is: pixels. */
export function useScroll(box: RefObject<HTMLElement | null>): {
  readonly top: number
  readonly height: number
} {
  const [seen, setSeen] = useState({ top: 0, height: 600 })
  useEffect(() => {
    const element = box.current
    if (!element) return
    const look = (): void => setSeen({ top: element.scrollTop, height: element.clientHeight })
    const observer = new ResizeObserver(look)
    observer.observe(element)
    element.addEventListener('scroll', look, { passive: true })
    return () => {
      observer.disconnect()
      element.removeEventListener('scroll', look)
    }
  }, [box])
  return seen
}

function bringIntoSight(element: HTMLElement | null, row: number): void {
  if (!element) return
  const top = row * rowHeight
  const room = element.clientHeight - headHeight
  if (top < element.scrollTop) element.scrollTop = top
  else if (top + rowHeight > element.scrollTop + room) element.scrollTop = top + rowHeight - room
}

/** The row that the keys stand on. It follows the chosen row, and brings itself into sight. */
function useCurrentRow(box: RefObject<HTMLElement | null>, chosenRow: number) {
  const [current, setCurrent] = useState(0)
  useEffect(() => {
    if (chosenRow < 0) return
    setCurrent(chosenRow)
    bringIntoSight(box.current, chosenRow)
  }, [box, chosenRow])
  const goTo = (row: number): void => {
    setCurrent(row)
    bringIntoSight(box.current, row)
  }
  return { current, goTo }
}

/**
 * A table of any length: only the rows in sight are drawn. One stop of the Tab key; arrows, Page, Home and End move, Enter
 * or Space chooses, as a click does. Cost of a scroll step: the rows in sight.
 */
export function DataGrid<Row>(props: DataGridProps<Row>) {
  const { label, rows, columns, rowKey, chosen, onChoose, style, testId } = props
  const id = useId()
  const box = useRef<HTMLDivElement>(null)
  const { top, height } = useScroll(box)
  const chosenRow = chosen === null ? -1 : rows.findIndex((row) => rowKey(row) === chosen)
  const { current, goTo } = useCurrentRow(box, chosenRow)
  const { first, end } = rowWindow(rows.length, rowHeight, top, height)
  const onKeyDown = (event: KeyboardEvent): void => {
    const page = Math.max(1, Math.floor(height / rowHeight) - 2)
    const next = rowForKey(event.key, current, rows.length, page)
    const row = rows[current]
    if (next !== null) goTo(next)
    else if ((event.key === 'Enter' || event.key === ' ') && row !== undefined) onChoose(row)
    else return
    event.preventDefault()
  }
  const currentInSight = current >= first && current < end
  return (
    <div ref={box} className={classes.box} style={style}>
      <table
        className={classes.grid}
        // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: WAI-ARIA allows a grid upon a table.
        role="grid"
        aria-label={label}
        aria-rowcount={rows.length + 1}
        aria-activedescendant={currentInSight ? `${id}-${current}` : undefined}
        tabIndex={0}
        onKeyDown={onKeyDown}
        data-testid={testId}
        style={{ '--row-height': `${rowHeight}px` } as CSSProperties}
      >
        <Head columns={columns} />
        <tbody>
          <Spacer rows={first} />
          {rows.slice(first, end).map((row, i) => (
            <BodyRow
              key={rowKey(row)}
              id={`${id}-${first + i}`}
              index={first + i}
              row={row}
              columns={columns}
              chosen={first + i === chosenRow}
              current={first + i === current}
              onChoose={onChoose}
            />
          ))}
          <Spacer rows={rows.length - end} />
        </tbody>
      </table>
    </div>
  )
}

/** The room of rows that are not drawn. */
function Spacer({ rows }: { readonly rows: number }) {
  // biome-ignore lint/a11y/noAriaHiddenOnFocusable: a row of room is no row, and takes no focus.
  return rows > 0 ? <tr aria-hidden="true" style={{ height: rows * rowHeight }} /> : null
}

function Head<Row>({ columns }: { readonly columns: readonly Column<Row>[] }) {
  return (
    <thead>
      <tr aria-rowindex={1}>
        {columns.map(({ title, width, number }) => (
          <th key={title} scope="col" style={{ width }} data-number={number || undefined}>
            {title}
          </th>
        ))}
      </tr>
    </thead>
  )
}

interface BodyRowProps<Row> {
  readonly id: string
  readonly index: number
  readonly row: Row
  readonly columns: readonly Column<Row>[]
  readonly chosen: boolean
  readonly current: boolean
  readonly onChoose: (row: Row) => void
}

function BodyRow<Row>({ id, index, row, columns, chosen, current, onChoose }: BodyRowProps<Row>) {
  return (
    <tr
      id={id}
      className={classes.row}
      aria-rowindex={index + 2}
      aria-selected={chosen}
      data-current={current || undefined}
      onClick={() => onChoose(row)}
    >
      {columns.map((column) => (
        <td key={column.title} data-number={column.number || undefined}>
          {column.cell(row)}
        </td>
      ))}
    </tr>
  )
}
