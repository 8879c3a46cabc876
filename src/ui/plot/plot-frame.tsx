import type { ReactNode } from 'react'
import classes from './plot.module.css'
import { roundTicks } from './ticks.ts'

/** From values to pixels of a plot's inner rectangle. */
interface PlotScale {
  readonly x: (value: number) => number
  readonly y: (value: number) => number
}

export interface PlotRange {
  readonly min: number
  readonly max: number
}

interface PlotFrameProps {
  readonly title: string
  /** One sentence that says what the plot shows, for those who do not see it. */
  readonly summary: string
  readonly xLabel: string
  readonly yLabel: string
  readonly x: PlotRange
  readonly y: PlotRange
  /** False where the plot writes its own words under the x axis. */
  readonly xTicks?: boolean
  readonly children: (scale: PlotScale) => ReactNode
}

const plotWidth = 320
const plotHeight = 196
const inset = { left: 40, right: 8, top: 24, bottom: 36 }

/** Axes, rules and words around a plot. Horizontal rules only: the eye reads heights, not boxes. */
export function PlotFrame({ title, summary, xLabel, yLabel, x, y, xTicks = true, children }: PlotFrameProps) {
  const width = plotWidth - inset.left - inset.right
  const height = plotHeight - inset.top - inset.bottom
  const scale: PlotScale = {
    x: (value) => inset.left + ((value - x.min) / (x.max - x.min)) * width,
    y: (value) => inset.top + height - ((value - y.min) / (y.max - y.min)) * height,
  }
  const base = inset.top + height
  return (
    <figure className={classes.figure}>
      <figcaption className={classes.title}>{title}</figcaption>
      <svg
        className={classes.svg}
        viewBox={`0 0 ${plotWidth} ${plotHeight}`}
        role="img"
        aria-label={`${title}. ${summary}`}
      >
        {roundTicks(y.min, y.max, 4).map((tick) => (
          <g key={tick}>
            <line
              className={classes.rule}
              x1={inset.left}
              x2={plotWidth - inset.right}
              y1={scale.y(tick)}
              y2={scale.y(tick)}
            />
            <text x={inset.left - 6} y={scale.y(tick) + 4} textAnchor="end">
              {Number(tick.toPrecision(6))}
            </text>
          </g>
        ))}
        {children(scale)}
        <line className={classes.base} x1={inset.left} x2={plotWidth - inset.right} y1={base} y2={base} />
        {xTicks
          ? roundTicks(x.min, x.max, 5).map((tick) => (
              <text key={tick} x={scale.x(tick)} y={base + 15} textAnchor="middle">
                {Number(tick.toPrecision(6))}
              </text>
            ))
          : null}
        <text x={plotWidth - inset.right} y={plotHeight - 4} textAnchor="end">
          {xLabel}
        </text>
        <text x={0} y={11}>
          {yLabel}
        </text>
      </svg>
    </figure>
  )
}
