import classes from './plot.module.css'
import { PlotFrame } from './plot-frame.tsx'

interface BarPlotProps {
  readonly title: string
  readonly summary: string
  readonly xLabel: string
  readonly yLabel: string
  readonly bars: readonly { readonly name: string; readonly value: number }[]
}

/** Bars from zero, one a name, in the order given. */
export function BarPlot({ bars, ...frame }: BarPlotProps) {
  const top = Math.max(1e-9, ...bars.map((bar) => bar.value))
  return (
    <PlotFrame {...frame} x={{ min: 0, max: bars.length || 1 }} y={{ min: 0, max: top }} xTicks={false}>
      {({ x, y }) =>
        bars.map((bar, i) => (
          <g key={bar.name}>
            <rect
              className={classes.bar}
              x={x(i + 0.12)}
              width={x(i + 0.88) - x(i + 0.12)}
              y={y(bar.value)}
              height={y(0) - y(bar.value)}
            />
            <text x={x(i + 0.5)} y={y(0) + 15} textAnchor="middle">
              {bar.name}
            </text>
          </g>
        ))
      }
    </PlotFrame>
  )
}
