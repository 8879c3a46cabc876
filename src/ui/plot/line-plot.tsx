import classes from './plot.module.css'
import { PlotFrame, type PlotRange } from './plot-frame.tsx'

/** One line: pairs of x and y. At most three lines a plot; they differ by dash as well as colour. */
interface PlotLine {
  readonly name: string
  readonly points: readonly (readonly [number, number])[]
}

interface LinePlotProps {
  readonly title: string
  readonly summary: string
  readonly xLabel: string
  readonly yLabel: string
  readonly x: PlotRange
  readonly y: PlotRange
  readonly lines: readonly PlotLine[]
  /** Lower and upper edge of a band behind the lines, as x, low, high. */
  readonly band?: readonly (readonly [number, number, number])[]
}

/** Lines over a range, with a band behind them if one is given. */
export function LinePlot({ lines, band, ...frame }: LinePlotProps) {
  return (
    <PlotFrame {...frame}>
      {({ x, y }) => (
        <>
          {band ? (
            <path
              className={classes.band}
              d={`M${band.map(([at, low]) => `${x(at)} ${y(low)}`).join('L')}L${[...band]
                .reverse()
                .map(([at, , high]) => `${x(at)} ${y(high)}`)
                .join('L')}Z`}
            />
          ) : null}
          {lines.slice(0, 3).map((line, order) => (
            <path
              key={line.name}
              className={classes.line}
              data-order={order}
              d={`M${line.points.map(([px, py]) => `${x(px)} ${y(py)}`).join('L')}`}
            />
          ))}
        </>
      )}
    </PlotFrame>
  )
}
