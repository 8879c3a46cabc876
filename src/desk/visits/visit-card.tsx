import { Button } from '@mantine/core'
import type { Visit, VisitAccount } from '#contract'
import {
  durationText,
  FigureTile,
  FigureTiles,
  lengthText,
  Notice,
  passRamp,
  RampLegend,
  threeFigures,
  useLook,
  wholeNumber,
} from '#ui'
import { useVisitAccount } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { muchFaster, speedColours } from '../map/walk-lines.ts'
import { Replay } from './replay.tsx'
import { VisitForm } from './visit-form.tsx'
import { FindsPlot, GrowthPlot, SpeedPlot } from './visit-plots.tsx'
import { VisitTracks } from './visit-tracks.tsx'
import classes from './visits-panel.module.css'
import { changeVisit } from './visits-state.ts'

const reasonWords: Readonly<Record<string, string>> = {
  'no-place': 'without a place',
  'no-time': 'without a time',
  'same-time': 'at the same time as the one before',
  'clock-back': 'with a clock that slipped',
  spike: 'farther off than anyone walks',
}

/** What was left out, in words: 3 fixes farther off than anyone walks. */
function rejectedText({ rejected }: VisitAccount): string {
  const parts = Object.entries(rejected).map(
    ([reason, count]) => `${wholeNumber(count)} ${reasonWords[reason] ?? reason}`,
  )
  return parts.length === 0 ? 'No fix was left out.' : `Left out: ${parts.join(', ')}.`
}

/** The steps of speed in the colours of the lines on the map. */
function SpeedLegend({ safeMS }: { readonly safeMS: number }) {
  const { look } = useLook()
  const texts = [`to ${threeFigures(safeMS)}`, `to ${threeFigures(muchFaster * safeMS)}`, 'faster']
  const steps = speedColours.map((colour, i) => ({
    colour: `rgb(${passRamp[look][colour]!.join(' ')})`,
    text: texts[i]!,
  }))
  return <RampLegend title="Speed on the map, metres a second; wider is faster" steps={steps} />
}

function speedText(metresPerSecond: number): string {
  return `${threeFigures(metresPerSecond)}\u202fm/s`
}

/** One visit: what it was walked with, what cleaning says of it, its replay and its plots. */
export function VisitCard({ visit }: { readonly visit: Visit }) {
  const { data: account, error } = useVisitAccount(visit.id)
  return (
    <div className={classes.card} data-testid="visit-card">
      <VisitForm visit={visit} />
      <VisitTracks visit={visit} />
      {error ? <Notice tone="fault">{sentenceOf(error)}</Notice> : null}
      {!account && !error ? <p className={classes.words}>Cleaning the walk and working it out …</p> : null}
      {account ? (
        <>
          <Replay visit={visit} />
          <Account account={account} visit={visit} />
          <SpeedPlot account={account} />
          <GrowthPlot account={account} />
          <FindsPlot account={account} />
        </>
      ) : null}
    </div>
  )
}

function Account({ account, visit }: { readonly account: VisitAccount; readonly visit: Visit }) {
  const { walkingS, stoppedS, safeMS, tooFastM, drives, distanceM, medianErrorM } = account
  return (
    <>
      <FigureTiles>
        <FigureTile label="Walked" value={lengthText(distanceM)} testId="visit-distance" />
        <FigureTile label="Walking" value={walkingS === null ? '–' : durationText(walkingS)} />
        <FigureTile
          label="Standing"
          value={stoppedS === null ? '–' : durationText(stoppedS)}
          note={account.stops > 0 ? `${wholeNumber(account.stops)} stops` : undefined}
        />
        <FigureTile
          label="Too fast"
          value={tooFastM === null ? '–' : lengthText(tooFastM)}
          note={safeMS === null ? 'give coil and sweeps a second' : `above ${speedText(safeMS)}`}
          testId="visit-too-fast"
        />
        <FigureTile
          label="Error of a fix"
          value={medianErrorM === null ? '–' : lengthText(medianErrorM)}
          note="along one axis, median"
        />
        <FigureTile
          label="Fixes kept"
          value={wholeNumber(account.kept)}
          note={`of ${wholeNumber(account.fixes)}`}
        />
      </FigureTiles>
      {safeMS === null ? null : <SpeedLegend safeMS={safeMS} />}
      {drives.count > 0 ? (
        <Notice tone="warn">
          {lengthText(drives.metres)} of this visit look driven.{' '}
          <Button
            size="compact-sm"
            variant="default"
            onClick={() => void changeVisit(visit.id, { cutDrives: !visit.cutDrives })}
          >
            {visit.cutDrives ? 'Count it again' : 'Leave it out'}
          </Button>
        </Notice>
      ) : null}
      <details>
        <summary className={classes.summary}>How this was made</summary>
        <ul className={classes.notes}>
          <li>{rejectedText(account)} The recorded fixes stay as they came.</li>
          <li>
            Places and speeds are those of the smoothed walk. On the map a line is wider and of another colour
            above the safe speed, and again above twice that.
          </li>
          {account.notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      </details>
    </>
  )
}
