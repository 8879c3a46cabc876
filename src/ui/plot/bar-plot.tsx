import classes from './plot.module.css'
import { PlotFrame } from './plot-frame.tsx'

interface BarPlotProps {
  readonly title: string
  readonly summary: string
  readonly xLabel: string
  readonly yLabel: string
  /** `label` stands under the bar in place of its name; empty for none. */
  readonly bars: readonly { readonly name: string; readonly value: number; readonly label?: string }[]
  /** A dashed line across the bars with its word, `at` counted in bars from the left. */
  readonly limit?: { readonly at: number; readonly text: string } | null
}

/** Bars from zero, one a name, in the order given. */
export function BarPlot({ bars, limit = null, ...frame }: BarPlotProps) {
  const top = Math.max(1e-9, ...bars.map((bar) => bar.value))
  return (
    <PlotFrame {...frame} x={{ min: 0, max: bars.length || 1 }} y={{ min: 0, max: top }} xTicks={false}>
      {({ x, y }) => (
        <>
          {bars.map((bar, i) => (
            <g key={bar.name}>
              <rect
                className={classes.bar}
                x={x(i + 0.12)}
                width={x(i + 0.88) - x(i + 0.12)}
                y={y(bar.value)}
                height={y(0) - y(bar.value)}
              />
              <text x={x(i + 0.5)} y={y(0) + 15} textAnchor="middle">
                {bar.label ?? bar.name}
              </text>
            </g>
          ))}
          {limit !== null ? (
            <g>
              <line className={classes.limit} x1={x(limit.at)} x2={x(limit.at)} y1={y(top)} y2={y(0)} />
              <text x={x(limit.at) + 4} y={y(top) - 5}>
                {limit.text}
              </text>
            </g>
          ) : null}
        </>
      )}
    </PlotFrame>
  )
}
