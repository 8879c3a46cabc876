import type { PlannedSweep } from '#contract'
import { meanSweepShare, objectSensed, scatterCrossed, sweepInWords } from '#core/effort'
import { LinePlot, NumberRow, Section, shareText } from '#ui'
import classes from './lanes.module.css'
import { changeSweep, type LaneForm } from './lanes-state.ts'

const within =
  (most: number, unit: string, from = 0) =>
  (value: number): string | null =>
    value > from && value <= most ? null : `Give a value above ${from} up to ${most} ${unit}.`

const steps = 60

function curve(most: number, of: (spacing: number) => number): [number, number][] {
  return Array.from({ length: steps }, (_, i) => {
    const spacing = (most * (i + 1)) / steps
    return [spacing, of(spacing)]
  })
}

/** The figures of the sweep that the chances stand on. */
function SweepRows({ sweep }: { readonly sweep: PlannedSweep }) {
  const { swathM, coilM, rateHz, scatterM } = sweep
  return (
    <>
      <NumberRow
        label="Swath"
        hint="Edge to edge of the arc swept"
        unit="m"
        value={swathM}
        refuse={within(20, 'm')}
        onChange={(value) => value !== null && changeSweep({ swathM: value })}
      />
      <NumberRow
        label="Coil"
        hint="Length of ground it senses along the walk"
        unit="m"
        value={coilM}
        refuse={within(5, 'm')}
        onChange={(value) => value !== null && changeSweep({ coilM: value })}
      />
      <NumberRow
        label="Sweeps"
        hint="Crossings, left to right or back"
        unit="/s"
        value={rateHz}
        refuse={within(10, 'a second')}
        onChange={(value) => value !== null && changeSweep({ rateHz: value })}
      />
      <NumberRow
        label="Scatter"
        hint="How far across the thing looked for is"
        unit="m"
        value={scatterM}
        refuse={within(10_000, 'm')}
        onChange={(value) => value !== null && changeSweep({ scatterM: value })}
      />
    </>
  )
}

/** Chances that lanes at this spacing meet a scatter, and that a single thing is sensed, live as the figures change. */
export function FindIt({ form }: { readonly form: LaneForm }) {
  const { spacingM, speedMs, sweep: given } = form
  const sweep = { coilM: given.coilM, rateHz: given.rateHz, speedMs }
  const most = Math.max(4, Math.ceil(2 * spacingM), Math.ceil(1.5 * (given.swathM + given.scatterM)))
  const scatter = (spacing: number): number => scatterCrossed(given.scatterM, given.swathM, spacing)
  const single = (spacing: number): number => objectSensed(given.swathM, spacing, sweep)
  const [now, one] = [scatter(spacingM), single(spacingM)]
  const summary = `At lanes ${spacingM} m apart a scatter ${given.scatterM} m across is crossed with a chance of ${shareText(now)}, and a single thing within reach of the coil is sensed with a chance of ${shareText(one)}.`
  return (
    <Section title="Will it find it?">
      <p className={classes.plain} data-testid="find-it">
        A lane crosses a scatter {given.scatterM} m across with a chance of <b>{shareText(now)}</b>. A single
        thing near enough below is passed over by the coil with a chance of <b>{shareText(one)}</b>.
      </p>
      <LinePlot
        title="Chance by spacing"
        summary={summary}
        xLabel="Between lanes, m"
        yLabel="Chance"
        x={{ min: 0, max: most }}
        y={{ min: 0, max: 1 }}
        lines={[
          { name: 'Scatter crossed', points: curve(most, scatter) },
          { name: 'Single thing', points: curve(most, single) },
          {
            name: 'This plan',
            points: [
              [spacingM, 0],
              [spacingM, 1],
            ],
          },
        ]}
      />
      <p className={classes.key}>
        Plain line: a scatter is crossed. Dashed: a single thing is sensed. Upright: this plan.
      </p>
      <p className={classes.plain} data-testid="sweep-words">
        {sweepInWords(sweep)}
        {meanSweepShare(sweep) < 1
          ? ` So the coil senses ${shareText(meanSweepShare(sweep))} of the swath.`
          : null}
      </p>
      <SweepRows sweep={given} />
      <p className={classes.hint}>
        Sums of plain geometry: depth, soil, size and attention come on top and only lessen them.
      </p>
    </Section>
  )
}
