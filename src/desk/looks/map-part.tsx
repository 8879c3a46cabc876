import {
  BarPlot,
  FindspotSwatch,
  Legend,
  LegendEntry,
  LinePlot,
  LineSwatch,
  MarkSwatch,
  NorthMark,
  passRamp,
  RampLegend,
  ScaleBar,
  TargetSwatch,
  useLook,
} from '#ui'
import classes from './looks-page.module.css'
import { LooksPart } from './looks-part.tsx'

const points = (rise: number): (readonly [number, number])[] =>
  Array.from({ length: 21 }, (_, i) => [i, Math.min(1, 1 - Math.exp(-rise * i))] as const)

/** Symbols, ramp, scale and north, as they stand on the map. */
export function MapPart() {
  const { look } = useLook()
  return (
    <LooksPart title="Map symbols, ramp, scale and north">
      <div className={classes.columns}>
        <div className={classes.paper}>
          <Legend>
            <LegendEntry symbol={<LineSwatch symbol="area" />}>Search area</LegendEntry>
            <LegendEntry symbol={<LineSwatch symbol="track" />}>Track</LegendEntry>
            <LegendEntry symbol={<LineSwatch symbol="planned" />}>Planned line</LegendEntry>
            <LegendEntry symbol={<LineSwatch symbol="gap" />}>Gap</LegendEntry>
            <LegendEntry symbol={<LineSwatch symbol="selected" />}>What is chosen</LegendEntry>
            <LegendEntry symbol={<MarkSwatch state="candidate" />}>Mark to decide</LegendEntry>
            <LegendEntry symbol={<MarkSwatch state="accepted" />}>Accepted mark</LegendEntry>
            <LegendEntry symbol={<MarkSwatch state="unsure" />}>Mark left unsure</LegendEntry>
            <LegendEntry symbol={<MarkSwatch state="rejected" />}>Rejected mark</LegendEntry>
            <LegendEntry symbol={<TargetSwatch />}>Target</LegendEntry>
            <LegendEntry symbol={<FindspotSwatch />}>Findspot</LegendEntry>
            <LegendEntry symbol={<FindspotSwatch chosen />}>Findspot that is chosen</LegendEntry>
          </Legend>
        </div>
        <div className={`${classes.paper} ${classes.stack}`}>
          <RampLegend
            title="Passes over a spot"
            steps={passRamp[look].map(([r, g, b], i) => ({
              colour: `rgb(${r} ${g} ${b})`,
              text: i === 3 ? '4+' : String(i + 1),
            }))}
          />
          <div className={classes.row}>
            <ScaleBar metresPerPixel={0.16} />
            <ScaleBar metresPerPixel={7} />
            <NorthMark />
          </div>
        </div>
      </div>
    </LooksPart>
  )
}

/** The two plots that the later stages build upon. The values are made up, to show the lines. */
export function PlotPart() {
  return (
    <LooksPart title="Plots">
      <div className={classes.columns}>
        <LinePlot
          title="Made-up lines"
          summary="Three rising lines and a band, to show how lines are told apart."
          xLabel="x"
          yLabel="y"
          x={{ min: 0, max: 20 }}
          y={{ min: 0, max: 1 }}
          band={points(0.2).map(([x, y]) => [x, y * 0.85, Math.min(1, y * 1.1)] as const)}
          lines={[
            { name: 'first', points: points(0.2) },
            { name: 'second', points: points(0.1) },
            { name: 'third', points: points(0.05) },
          ]}
        />
        <BarPlot
          title="Made-up bars"
          summary="Four bars of different heights, to show how bars look."
          xLabel="name"
          yLabel="count"
          bars={[
            { name: 'a', value: 12 },
            { name: 'b', value: 31 },
            { name: 'c', value: 24 },
            { name: 'd', value: 7 },
          ]}
        />
      </div>
    </LooksPart>
  )
}
