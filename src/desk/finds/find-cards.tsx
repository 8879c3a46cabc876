import { IconCheck, IconPhotoOff } from '@tabler/icons-react'
import {
  type CSSProperties,
  type KeyboardEvent,
  type RefObject,
  useEffect,
  useId,
  useRef,
  useState,
} from 'react'
import type { FindRow } from '#contract'
import { rowForKey, rowWindow, useScroll } from '#ui'
import { pictureAddress } from '../api/finds-api.ts'
import { useStore } from '../state/store.ts'
import classes from './find-cards.module.css'
import { openFind, picked, picksAll, togglePicked } from './finds-state.ts'

const leastWidth = 148
const cardHeight = 218
const gap = 8

interface FindCardsProps {
  readonly rows: readonly FindRow[]
  readonly onOpen: (row: FindRow) => void
}

/** How wide the box is inside, pixels. */
function useWidth(box: RefObject<HTMLElement | null>): number {
  const [width, setWidth] = useState(320)
  useEffect(() => {
    const element = box.current
    if (!element) return
    const observer = new ResizeObserver(() => setWidth(element.clientWidth))
    observer.observe(element)
    return () => observer.disconnect()
  }, [box])
  return width
}

/** The card to go to for a key: sideways by one, up and down by a line. */
function cardForKey(key: string, at: number, cards: number, columns: number, lines: number): number | null {
  if (key === 'ArrowLeft') return Math.max(0, at - 1)
  if (key === 'ArrowRight') return Math.min(cards - 1, at + 1)
  if (key === 'ArrowUp') return at < columns ? at : at - columns
  if (key === 'ArrowDown') return at + columns < cards ? at + columns : at
  return rowForKey(key, at, cards, columns * lines)
}

function bringIntoSight(element: HTMLElement | null, line: number): void {
  if (!element) return
  const top = line * (cardHeight + gap)
  const below = top + cardHeight + 2 * gap
  if (top < element.scrollTop) element.scrollTop = top
  else if (below > element.scrollTop + element.clientHeight) element.scrollTop = below - element.clientHeight
}

/** The card that the keys stand on, and what the keys do there. It follows the find that is open. */
function useKeys(
  { rows, onOpen }: FindCardsProps,
  box: RefObject<HTMLElement | null>,
  columns: number,
  lines: number,
) {
  const [at, stand] = useState(0)
  const open = useStore(openFind)
  const openAt = open === null ? -1 : rows.findIndex((row) => row.id === open)
  useEffect(() => {
    if (openAt < 0) return
    stand(openAt)
    bringIntoSight(box.current, Math.floor(openAt / columns))
  }, [box, openAt, columns])
  const current = Math.min(at, Math.max(0, rows.length - 1))
  const onKeyDown = (event: KeyboardEvent): void => {
    const { key } = event
    const next = cardForKey(key, current, rows.length, columns, Math.max(1, lines))
    const here = rows[current]
    if (next !== null) {
      stand(next)
      bringIntoSight(box.current, Math.floor(next / columns))
    } else if (key === 'Enter' && here) onOpen(here)
    else if (key === ' ' && here) togglePicked([here.id])
    else if (picksAll(event)) picked.set(new Set(rows.map((row) => row.id)))
    else return
    event.preventDefault()
    event.stopPropagation()
  }
  return { current, stand, onKeyDown }
}

/**
 * The finds as cards with their first photograph, any number of them: only the lines in sight are drawn. One stop of the Tab key; arrows, Page, Home
 * and End move from card to card, Enter opens the find, Space picks it. Cost of a scroll step: the cards in sight.
 */
export function FindCards({ rows, onOpen }: FindCardsProps) {
  const id = useId()
  const box = useRef<HTMLDivElement>(null)
  const { top, height } = useScroll(box)
  const columns = Math.max(1, Math.floor((useWidth(box) - gap) / (leastWidth + gap)))
  const lines = Math.ceil(rows.length / columns)
  const chosen = useStore(picked)
  const open = useStore(openFind)
  const pitch = cardHeight + gap
  const { first, end } = rowWindow(lines, pitch, top, height, 2)
  const { current, stand, onKeyDown } = useKeys({ rows, onOpen }, box, columns, Math.floor(height / pitch))
  const inSight = current >= first * columns && current < end * columns && current < rows.length
  return (
    <div ref={box} className={classes.box}>
      <div
        className={classes.cards}
        role="listbox"
        aria-label="Finds"
        aria-multiselectable="true"
        aria-activedescendant={inSight ? `${id}-${current}` : undefined}
        tabIndex={0}
        onKeyDown={onKeyDown}
        data-testid="find-cards"
        style={
          {
            '--columns': columns,
            '--card-height': `${cardHeight}px`,
            paddingTop: gap + first * pitch,
            paddingBottom: gap + (lines - end) * pitch,
          } as CSSProperties
        }
      >
        {rows.slice(first * columns, end * columns).map((row, i) => {
          const index = first * columns + i
          return (
            <FindCard
              key={row.id}
              id={`${id}-${index}`}
              row={row}
              place={index + 1}
              of={rows.length}
              picked={chosen.has(row.id)}
              open={row.id === open}
              current={index === current}
              onOpen={() => {
                stand(index)
                onOpen(row)
              }}
            />
          )
        })}
      </div>
    </div>
  )
}

interface FindCardProps {
  readonly id: string
  readonly row: FindRow
  readonly place: number
  readonly of: number
  readonly picked: boolean
  readonly open: boolean
  readonly current: boolean
  readonly onOpen: () => void
}

/** In what state it is: how whole, its condition, and what conservation has to say. */
const stateText = ({ completeness, condition, conservation }: FindRow): string =>
  [completeness, condition, conservation].filter(Boolean).join('; ')

function FindCard({ id, row, place, of, open, current, onOpen, ...props }: FindCardProps) {
  const what = [row.object || 'find', row.count !== null && row.count > 1 ? `(${row.count})` : '']
    .join(' ')
    .trim()
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: the list takes the keys for its cards.
    <div
      id={id}
      role="option"
      tabIndex={-1}
      className={classes.card}
      aria-selected={props.picked}
      aria-setsize={of}
      aria-posinset={place}
      data-open={open || undefined}
      data-current={current || undefined}
      onClick={onOpen}
    >
      <div className={classes.picture}>
        {row.picture === null ? (
          <IconPhotoOff size={28} aria-label="no photograph" />
        ) : (
          <img
            src={pictureAddress(row.picture, 'small')}
            alt={`Photograph of ${row.number}`}
            decoding="async"
          />
        )}
        {row.photographs > 1 ? <span className={classes.many}>{row.photographs}</span> : null}
      </div>
      {/* biome-ignore lint/a11y/useKeyWithClickEvents: Space picks the card that the keys stand on. */}
      {/* biome-ignore lint/a11y/noStaticElementInteractions: an option may hold no button; the option itself tells that it is picked. */}
      <span
        className={classes.pick}
        title={props.picked ? `${row.number} is picked` : `Pick ${row.number}`}
        data-picked={props.picked || undefined}
        onClick={(event) => {
          event.stopPropagation()
          togglePicked([row.id])
        }}
      >
        {props.picked ? <IconCheck size={16} aria-hidden="true" /> : null}
      </span>
      <p className={classes.number}>{row.number}</p>
      <p className={classes.what}>{what}</p>
      <p className={classes.soft}>{[row.material, row.period].filter(Boolean).join(', ')}</p>
      <p className={classes.soft}>{stateText(row)}</p>
    </div>
  )
}
