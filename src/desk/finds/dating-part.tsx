import { Button } from '@mantine/core'
import { useMemo, useState } from 'react'
import type { FindRow } from '#contract'
import {
  aoristicSum,
  certaintyWorth,
  datedFinds,
  simulatedEnvelope,
  sliceSpan,
  spanText,
  timeSlices,
  yearAt,
} from '#core/dating'
import { seededRandom } from '#core/random'
import { countText, EmptyState, LinePlot, NumberRow, Section } from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { tell } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import { changed, useWords } from './finds-data.ts'
import { picked } from './finds-state.ts'
import classes from './joins-review.module.css'
import { periodYears } from './period-years.ts'

const simulations = 199
const level = 0.95
const seed = 1
const usualWidth = 50
/** Above this many finds times simulations the envelope would hold the page up. */
const mostDraws = 6_000_000

interface Sums {
  readonly points: readonly (readonly [year: number, sum: number])[]
  readonly band: readonly (readonly [number, number, number])[] | null
  readonly rows: readonly { readonly years: string; readonly sum: number }[]
  readonly undated: number
  readonly dated: number
}

/** Sums over time of the finds that have both years; the span is that of all but the longest-dated tenth, so that one "prehistoric" does not flatten the rest. */
function datingSums(rows: readonly FindRow[], width: number): Sums | null {
  const { dated, undated } = datedFinds(rows, certaintyWorth)
  const count = dated.from.length
  if (count === 0) return null
  const starts = Int32Array.from(dated.from).sort()
  const from = starts[Math.min(count - 1, Math.floor(count * 0.1))]!
  const to = dated.to.reduce((last, year) => Math.max(last, year), from)
  const slices = timeSlices({ from: yearAt(from), to: yearAt(to) }, width)
  const { sum } = aoristicSum(dated, slices)
  const middle = (i: number): number => (slices.edges[i]! + slices.edges[i + 1]!) / 2
  const envelope =
    count * simulations <= mostDraws
      ? simulatedEnvelope(dated, slices, { simulations, level, random: seededRandom(seed) })
      : null
  const bins = [...sum]
  return {
    points: bins.map((value, i) => [middle(i), value]),
    band: envelope && bins.map((_, i) => [middle(i), envelope.low[i]!, envelope.high[i]!]),
    rows: bins.map((value, i) => ({ years: spanText(sliceSpan(slices, i)), sum: value })),
    undated,
    dated: count,
  }
}

/** When the finds date to: those that are picked, else all. */
export function DatingPart({ rows }: { readonly rows: readonly FindRow[] }) {
  const chosen = useStore(picked)
  const [width, setWidth] = useState(usualWidth)
  const taken = useMemo(
    () => (chosen.size > 0 ? rows.filter(({ id }) => chosen.has(id)) : rows),
    [rows, chosen],
  )
  const sums = useMemo(() => datingSums(taken, width), [taken, width])
  if (sums === null)
    return (
      <div className={classes.scroll}>
        <EmptyState title="No find with both years">
          Write a date in the record of a find: the box understands periods, centuries and years, BC or AD.
        </EmptyState>
        <PeriodYearsButton rows={taken} />
      </div>
    )
  const xs = sums.points.map(([x]) => x)
  const top = Math.max(1, ...sums.points.map(([, y]) => y), ...(sums.band ?? []).map(([, , high]) => high))
  const most = sums.rows.reduce((best, row) => (row.sum > best.sum ? row : best))
  return (
    <div className={classes.scroll}>
      <NumberRow
        label="Years a slice"
        unit="years"
        value={width}
        refuse={(value) =>
          Number.isInteger(value) && value >= 5 && value <= 1000 ? null : 'Give 5 to 1,000 years.'
        }
        onChange={(value) => setWidth(value ?? usualWidth)}
      />
      <LinePlot
        title={chosen.size > 0 ? 'Pieces over time, of the finds picked' : 'Pieces over time'}
        summary={`Highest in ${most.years} with ${most.sum.toFixed(1)}.`}
        xLabel="year, BC below zero"
        yLabel="pieces"
        x={{ min: Math.min(...xs), max: Math.max(Math.min(...xs) + 1, ...xs) }}
        y={{ min: 0, max: top }}
        lines={[{ name: 'sum', points: sums.points }]}
        {...(sums.band ? { band: sums.band } : {})}
      />
      <p className={classes.soft}>
        Each find is shared out evenly over its years, a probable date counting 0.75 and a possible one 0.5.
        {sums.band
          ? ` The band holds the middle 95 % of ${simulations} draws (seed ${seed}), slice by slice.`
          : ' There are too many finds for the band of draws.'}
        {sums.undated > 0 ? ` ${countText(sums.undated, 'find')} without both years left out.` : ''}
      </p>
      <PeriodYearsButton rows={taken} />
      <table className={classes.table}>
        <caption className="only-read">Pieces in each slice of time</caption>
        <thead>
          <tr>
            <th scope="col">Years</th>
            <th scope="col">Pieces</th>
          </tr>
        </thead>
        <tbody>
          {sums.rows.map(({ years, sum }) => (
            <tr key={years}>
              <td>{years}</td>
              <td>{sum.toFixed(2)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

/** Writes the years of their periods into finds that name one and no year: one step of Undo a period. */
function PeriodYearsButton({ rows }: { readonly rows: readonly FindRow[] }) {
  const words = useWords()
  const found = useMemo(() => (words ? periodYears(rows, words.readDate) : []), [rows, words])
  if (found.length === 0) return null
  const finds = found.reduce((sum, { ids }) => sum + ids.length, 0)
  const write = async (): Promise<void> => {
    const done = await changed(async () => {
      for (const { ids, from, to } of found)
        await findsApi.changeMany({ ids: [...ids], record: { fromYear: from, toYear: to } })
    })
    if (done) tell('good', `${countText(finds, 'find')} have the years of their periods now.`)
  }
  return (
    <Section title="Finds with a period and no years">
      <ul className={classes.joins}>
        {found.map(({ period, from, to, ids }) => (
          <li key={period}>
            {period}: {spanText({ from, to })}, {countText(ids.length, 'find')}
          </li>
        ))}
      </ul>
      <Button variant="default" onClick={() => void write()}>
        Write these years into them
      </Button>
    </Section>
  )
}
