import type { VisitAccount } from '#contract'
import { BarPlot, LinePlot, shareText, threeFigures, wholeNumber } from '#ui'
import classes from './visits-panel.module.css'

const minute = 60

interface PlotProps {
  readonly account: VisitAccount
}

/** Minutes walked in each step of speed; the safe speed as a line. */
export function SpeedPlot({ account: { speeds, safeMS, tooFastS } }: PlotProps) {
  const all = speeds.seconds.reduce((sum, seconds) => sum + seconds, 0)
  if (all === 0) return null
  const bars = speeds.seconds.map((seconds, i) => {
    const name = (i * speeds.stepMS).toFixed(1)
    return { name, label: i % 5 === 0 ? name : '', value: seconds / minute }
  })
  const summary =
    safeMS === null
      ? 'No safe speed is known: give the coil and the sweeps a second.'
      : `The safe speed is ${threeFigures(safeMS)} m/s; ${shareText((tooFastS ?? 0) / all)} of the walking time lies above it.`
  return (
    <>
      <BarPlot
        title="Walking speed"
        summary={summary}
        xLabel="m/s"
        yLabel="minutes"
        bars={bars}
        limit={
          safeMS === null ? null : { at: Math.min(bars.length, safeMS / speeds.stepMS), text: 'safe speed' }
        }
      />
      <p className={classes.words}>{summary}</p>
    </>
  )
}

/** How the covered share of the search area grew. */
export function GrowthPlot({ account: { growth } }: PlotProps) {
  const last = growth.at(-1)
  if (last === undefined || last.atS === 0) return null
  const summary = `After ${wholeNumber(last.atS / minute)} minutes this visit had passed over ${shareText(last.share)} of the search area.`
  return (
    <>
      <LinePlot
        title="Ground covered"
        summary={summary}
        xLabel="minutes"
        yLabel="% of the search area"
        x={{ min: 0, max: last.atS / minute }}
        y={{ min: 0, max: Math.max(0.1, last.share * 110) }}
        lines={[
          { name: 'covered', points: growth.map(({ atS, share }) => [atS / minute, share * 100] as const) },
        ]}
      />
      <p className={classes.words}>{summary} Counted on coarse cells at 24 moments.</p>
    </>
  )
}

/** How the finds grew. */
export function FindsPlot({ account: { growth } }: PlotProps) {
  const last = growth.at(-1)
  if (last === undefined || last.finds === 0) return null
  const summary = `${wholeNumber(last.finds)} finds in ${wholeNumber(last.atS / minute)} minutes.`
  return (
    <LinePlot
      title="Finds"
      summary={summary}
      xLabel="minutes"
      yLabel="finds"
      x={{ min: 0, max: last.atS / minute }}
      y={{ min: 0, max: last.finds * 1.1 }}
      lines={[{ name: 'finds', points: growth.map(({ atS, finds }) => [atS / minute, finds] as const) }]}
    />
  )
}
