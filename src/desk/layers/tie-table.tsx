import { ActionIcon } from '@mantine/core'
import { IconTrash } from '@tabler/icons-react'
import { useState } from 'react'
import { measuredText, numberFrom } from '#ui'
import type { DraftFit, DraftPoint, Side } from './tie-draft.ts'
import classes from './tie-page.module.css'

interface PairCellsProps {
  readonly labels: readonly [x: string, y: string]
  readonly value: readonly [number, number] | null
  readonly digits: number
  readonly onChange: (value: readonly [number, number]) => void
}

/** The two figures of one side of a point, to be typed as well as clicked. Half of a pair waits in its cell for the other. */
function PairCells({ labels, value, digits, onChange }: PairCellsProps) {
  /** What is being typed; null where the cell shows what is held. */
  const [typed, setTyped] = useState<readonly [string | null, string | null]>([null, null])
  const text = (i: 0 | 1): string => typed[i] ?? value?.[i].toFixed(digits) ?? ''
  const type = (i: 0 | 1, next: string): void =>
    setTyped((now) => (i === 0 ? [next, now[1]] : [now[0], next]))
  const settle = (): void => {
    if (typed[0] === null && typed[1] === null) return
    const [x, y] = [0, 1].map((i) => (typed[i] == null ? (value?.[i] ?? null) : numberFrom(typed[i])))
    if (x == null || y == null) return
    setTyped([null, null])
    if (x !== value?.[0] || y !== value[1]) onChange([x, y])
  }
  return ([0, 1] as const).map((i) => (
    <td key={i}>
      <input
        className={classes.cell}
        aria-label={labels[i]}
        inputMode="decimal"
        autoComplete="off"
        value={text(i)}
        onChange={(event) => type(i, event.currentTarget.value)}
        onBlur={settle}
        onKeyDown={(event) => {
          if (event.key === 'Enter') settle()
        }}
      />
    </td>
  ))
}

interface TieTableProps {
  readonly points: readonly DraftPoint[]
  readonly chosen: number | null
  readonly fit: DraftFit
  readonly onChoose: (id: number) => void
  readonly onMove: (id: number, side: Side, place: readonly [number, number]) => void
  readonly onRemove: (id: number) => void
}

/** The tie points, each with what it is off by: larger residuals are points to look at again. */
export function TieTable({ points, chosen, fit, onChoose, onMove, onRemove }: TieTableProps) {
  return (
    <table className={classes.table}>
      <thead>
        <tr>
          <th scope="col">Point</th>
          <th scope="col">Off by</th>
          <th scope="col">Column</th>
          <th scope="col">Row</th>
          <th scope="col">Easting</th>
          <th scope="col">Northing</th>
          <th scope="col">
            <span className="only-read">Remove</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {points.map(({ id, picture, ground }, i) => {
          const number = i + 1
          const off = 'residualsM' in fit ? fit.residualsM.get(id) : undefined
          return (
            <tr key={id} data-chosen={id === chosen || undefined}>
              <th scope="row">
                <button
                  type="button"
                  className={classes.number}
                  aria-pressed={id === chosen}
                  aria-label={`Point ${number}`}
                  onClick={() => onChoose(id)}
                >
                  {number}
                </button>
              </th>
              <td className={classes.off} data-testid={`off-by-${number}`}>
                {off === undefined ? '–' : measuredText(off)}
              </td>
              <PairCells
                labels={[`Column of point ${number}`, `Row of point ${number}`]}
                value={picture}
                digits={1}
                onChange={(place) => onMove(id, 'picture', place)}
              />
              <PairCells
                labels={[`Easting of point ${number}`, `Northing of point ${number}`]}
                value={ground}
                digits={2}
                onChange={(place) => onMove(id, 'ground', place)}
              />
              <td>
                <ActionIcon aria-label={`Remove point ${number}`} size={28} onClick={() => onRemove(id)}>
                  <IconTrash size={16} aria-hidden="true" />
                </ActionIcon>
              </td>
            </tr>
          )
        })}
      </tbody>
    </table>
  )
}
