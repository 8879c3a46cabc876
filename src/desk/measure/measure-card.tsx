import { Button } from '@mantine/core'
import type { LineView, SurveyGridView } from '#contract'
import { areaText, Card, convergenceText, type Fact, FactList, Notice } from '#ui'
import { copyText } from '../state/copy.ts'
import classes from './measure-card.module.css'
import { clearMeasure, closeFigure, endMeasure, takeBackPoint } from './measure-state.ts'
import { bearingsOf, compassText, lengthOrDash, nextText } from './measure-words.ts'
import { figureArea, type Measure, mayClose } from './measured-line.ts'
import { TypedPlaces } from './typed-places.tsx'
import { useMeasured } from './use-measured.ts'

/** The length along the ground, large, and the plane of the grid's beside it. */
function Length({
  name,
  groundM,
  gridM,
}: {
  readonly name: string
  readonly groundM: number | null
  readonly gridM: number | null
}) {
  return (
    <div>
      <p className={classes.name}>{name}</p>
      <p>
        <output className={classes.figure} data-testid="measure-ground">
          {lengthOrDash(groundM)}
        </output>{' '}
        on the ground
      </p>
      <p className={classes.soft}>
        <span data-testid="measure-grid">{lengthOrDash(gridM)}</span> on the grid
      </p>
    </div>
  )
}

/** Every leg's length; shown where there is more than one. */
function Legs({ legs }: { readonly legs: readonly (LineView | null)[] }) {
  return (
    <table className={classes.legs}>
      <thead>
        <tr>
          <th scope="col">Leg</th>
          <th scope="col">On the ground</th>
          <th scope="col">On the grid</th>
        </tr>
      </thead>
      <tbody>
        {legs.map((leg, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: legs are known by their order.
          <tr key={i}>
            <th scope="row">{i + 1}</th>
            <td>{lengthOrDash(leg?.groundM ?? null)}</td>
            <td>{lengthOrDash(leg?.gridM ?? null)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** The bearings of the last leg, with what is between them. */
function Bearings({ leg, only }: { readonly leg: LineView | null; readonly only: boolean }) {
  const bearings = bearingsOf(leg)
  const of = only ? '' : ' of the last leg'
  const facts: Fact[] = [
    { name: `Grid bearing${of}`, value: bearings.grid },
    { name: `True bearing${of}`, value: bearings.true },
    { name: `Magnetic bearing${of}`, value: bearings.magnetic },
  ]
  return (
    <>
      <FactList facts={facts} onCopy={(text) => void copyText(text)} />
      <p className={classes.soft}>
        {leg === null ? '' : `${convergenceText(leg.convergence)} `}
        {compassText(leg)}
      </p>
    </>
  )
}

function Area({ now, epsg }: { readonly now: Measure; readonly epsg: number }) {
  const area = figureArea(now, epsg)
  if ('flaw' in area) return <Notice tone="warn">{area.flaw}</Notice>
  return (
    <div>
      <p className={classes.name}>Area</p>
      <p>
        <output className={classes.figure} data-testid="measure-area">
          {areaText(area.areaM2)}
        </output>{' '}
        on the plane of the grid
      </p>
    </div>
  )
}

interface MeasureCardProps {
  readonly now: Measure
  readonly grid: SurveyGridView
}

/** What is being measured: lengths, bearings of the last leg, and of a closed figure its area. */
export function MeasureCard({ now, grid }: MeasureCardProps) {
  const { points, closed } = now
  const { legs, groundM, gridM, fault } = useMeasured(now, grid.epsg)
  return (
    <Card title="Measure" closeLabel="End measuring" onClose={endMeasure} testId="measure-card">
      <p className={classes.soft} role="status">
        {nextText(points.length, closed)}
      </p>
      {fault === null ? null : <Notice tone="fault">{fault}</Notice>}
      {closed ? <Area now={now} epsg={grid.epsg} /> : null}
      {legs.length > 0 ? (
        <Length name={closed ? 'Perimeter' : 'Length'} groundM={groundM} gridM={gridM} />
      ) : null}
      {legs.length > 1 ? <Legs legs={legs} /> : null}
      {legs.length > 0 && !closed ? <Bearings leg={legs.at(-1) ?? null} only={legs.length === 1} /> : null}
      {points.length > 0 ? (
        <div className={classes.buttons}>
          {mayClose(now) ? (
            <Button size="compact-sm" onClick={closeFigure}>
              Close the figure
            </Button>
          ) : null}
          <Button variant="default" size="compact-sm" onClick={takeBackPoint}>
            {closed ? 'Open it again' : 'Take back'}
          </Button>
          <Button variant="default" size="compact-sm" onClick={clearMeasure}>
            Start again
          </Button>
        </div>
      ) : null}
      <TypedPlaces />
    </Card>
  )
}
