import { ActionIcon } from '@mantine/core'
import { IconTrash } from '@tabler/icons-react'
import { useEffect, useState } from 'react'
import { measuredText, numberFrom } from '#ui'
import type { DraftFit, DraftPoint, Side } from './tie-draft.ts'
import classes from './tie-page.module.css'

interface NumberCellProps {
  readonly label: string
  readonly value: number | null
  readonly digits: number
  readonly onChange: (value: number) => void
}

/** A figure of a point, to be typed as well as clicked. */
function NumberCell({ label, value, digits, onChange }: NumberCellProps) {
  const text = value === null ? '' : value.toFixed(digits)
  const [typed, setTyped] = useState(text)
  useEffect(() => setTyped(text), [text])
  const settle = (): void => {
    const number = numberFrom(typed)
    if (number === null || typed === text) setTyped(text)
    else onChange(number)
  }
  return (
    <td>
      <input
        className={classes.cell}
        aria-label={label}
        inputMode="decimal"
        autoComplete="off"
        value={typed}
        onChange={(event) => setTyped(event.currentTarget.value)}
        onBlur={settle}
        onKeyDown={(event) => {
          if (event.key === 'Enter') settle()
        }}
      />
    </td>
  )
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
          const [column, row] = picture ?? [null, null]
          const [easting, northing] = ground ?? [null, null]
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
              <NumberCell
                label={`Column of point ${number}`}
                value={column}
                digits={1}
                onChange={(x) => onMove(id, 'picture', [x, row ?? 0])}
              />
              <NumberCell
                label={`Row of point ${number}`}
                value={row}
                digits={1}
                onChange={(y) => onMove(id, 'picture', [column ?? 0, y])}
              />
              <NumberCell
                label={`Easting of point ${number}`}
                value={easting}
                digits={2}
                onChange={(x) => onMove(id, 'ground', [x, northing ?? 0])}
              />
              <NumberCell
                label={`Northing of point ${number}`}
                value={northing}
                digits={2}
                onChange={(y) => onMove(id, 'ground', [easting ?? 0, y])}
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
