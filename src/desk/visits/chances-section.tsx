import { Button } from '@mantine/core'
import type { ChancesView, SurveyView, VisitView } from '#contract'
import {
  countText,
  FigureTile,
  FigureTiles,
  momentText,
  Notice,
  NumberRow,
  ProgressBar,
  Section,
  ShareFigure,
  shareText,
  threeFigures,
  wholeNumber,
} from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { useList } from '../api/queries.ts'
import { SelectRow } from '../layers/select-row.tsx'
import { goToFindspot } from '../map/choosing.ts'
import { mayHaveCover, workOutCoverIfStale } from '../state/cover-run.ts'
import { cancelJob, jobOfKind, runningJobs } from '../state/jobs.ts'
import { tell, tellFault } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import { undoLast } from '../survey/undo.ts'
import { choicesOf } from './visit-choices.ts'
import classes from './visits-panel.module.css'
import {
  chancesFault,
  choice,
  countTrack,
  coverShown,
  gapChance,
  showCoverAs,
  useChosenChances,
  withSpread,
  workOutChances,
} from './visits-state.ts'

/** Which visits, and how likely it is that something there was missed. */
export function ChancesSection({ survey }: { readonly survey: SurveyView }) {
  const visits = useList('visits')
  const areas = useList('areas')
  const chances = useChosenChances()
  const chosen = useStore(choice)
  const level = useStore(gapChance)
  const spread = useStore(withSpread)
  const shown = useStore(coverShown)
  const fault = useStore(chancesFault)
  const job = jobOfKind(useStore(runningJobs), 'chances')
  if (!mayHaveCover(survey, areas) || visits.length === 0) return null
  const choices = choicesOf(visits)
  const known = choices.some(({ value }) => value === chosen) ? chosen : 'all'
  return (
    <Section title="Chance of having missed something">
      <div className={classes.main}>
        <SelectRow label="Of" value={known} choices={choices} onChange={choice.set} />
        <NumberRow
          label="Missed below"
          hint="A chance lower than this counts as a gap"
          unit="%"
          value={Math.round(level * 100)}
          refuse={(value) => (value > 0 && value <= 100 ? null : 'Give a value above 0 up to 100 %.')}
          onChange={(percent) => {
            if (percent !== null) gapChance.set(percent / 100)
          }}
        />
        <label className={classes.check}>
          <input
            type="checkbox"
            checked={spread}
            onChange={(event) => withSpread.set(event.currentTarget.checked)}
          />
          With the spread, by simulated walks (takes longer)
        </label>
        {job ? (
          <ProgressBar label={job.label} done={job.done} onCancel={() => cancelJob(job.id)} />
        ) : (
          <Button variant="default" fullWidth onClick={() => void workOutChances()}>
            Work out the chances
          </Button>
        )}
        {fault !== null && !job ? <Notice tone="fault">{fault}</Notice> : null}
        {chances ? (
          <>
            <SelectRow
              label="Map shows"
              value={shown}
              choices={[
                { value: 'passes', text: 'passes over a spot' },
                { value: 'chance', text: 'chance it was sensed' },
              ]}
              onChange={showCoverAs}
            />
            <ChanceFigures chances={chances} />
          </>
        ) : null}
      </div>
    </Section>
  )
}

function ChanceFigures({ chances }: { readonly chances: ChancesView }) {
  const { cover, wish, stale, madeAt, surface } = chances
  const visits = useList('visits')
  const other = wish.gapChance !== useStore(gapChance)
  const { all, spread, gaps } = cover
  const names = new Map(visits.map(({ id, name }) => [String(id), name]))
  const missed = gaps.reduce((sum, { areaM2 }) => sum + areaM2, 0)
  return (
    <>
      {stale || other ? (
        <Notice tone="warn">
          {stale
            ? 'Out of date: ground, tracks or sweep have changed since these chances were worked out.'
            : `These are of ${Math.round(wish.gapChance * 100)} %: you have asked otherwise since.`}
        </Notice>
      ) : null}
      <p className={classes.words} data-testid="chances-made">
        Worked out {momentText(madeAt)}
        {surface ? '.' : '. The map of them went to make room: work them out again to see it.'}
      </p>
      <ShareFigure
        label="of the search area sensed, by chance"
        value={shareText(all.expectedShare)}
        share={all.expectedShare}
        testId="expected-share"
      />
      <FigureTiles>
        <FigureTile label="50 % or surer" value={shareText(all.share50)} testId="share-50" />
        <FigureTile label="80 % or surer" value={shareText(all.share80)} testId="share-80" />
        <FigureTile label="95 % or surer" value={shareText(all.share95)} testId="share-95" />
        <FigureTile
          label={`Below ${Math.round(wish.gapChance * 100)} %`}
          value={shareText(missed / cover.figures.areaM2)}
          note={`${wholeNumber(gaps.length)} gaps`}
        />
      </FigureTiles>
      {spread ? (
        <p className={classes.words} data-testid="spread">
          In nine of ten simulated walks ({spread.simulations} of them, seed {spread.seed}) the covered share
          lies from {shareText(spread.low)} to {shareText(spread.high)}.
        </p>
      ) : null}
      {gaps.length > 0 ? (
        <Button variant="default" fullWidth onClick={() => void makeArea(chances)}>
          Make a search area of the gaps
        </Button>
      ) : null}
      <details>
        <summary className={classes.summary}>By visit, and how this was made</summary>
        <ul className={classes.notes}>
          {cover.visits.map((visit) => (
            <li key={visit.id}>
              {names.get(visit.id) ?? 'Tracks in no visit'}: {visitText(visit)} {visit.notes.join(' ')}
            </li>
          ))}
          {cover.figures.notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      </details>
      <Twins chances={chances} />
      <Questions chances={chances} />
    </>
  )
}

/** A visit in figures: 21.5 % by chance, 34 finds, 7.2 an hour, 31.4 a covered hectare. */
function visitText({ expectedShare, finds, findsPerHour, findsPerCoveredHectare }: VisitView): string {
  const parts = [
    `${shareText(expectedShare)} by chance`,
    countText(finds, 'find'),
    findsPerHour === null ? null : `${threeFigures(findsPerHour)} an hour`,
    findsPerCoveredHectare === null ? null : `${threeFigures(findsPerCoveredHectare)} a covered hectare`,
  ]
  return `${parts.filter((part) => part !== null).join(', ')}.`
}

/** Tracks that look like one walk: its ground would count twice, unless two people walked side by side. */
function Twins({ chances }: { readonly chances: ChancesView }) {
  const tracks = useList('tracks')
  const found = chances.cover.twins.filter(({ first, second }) =>
    [first, second].every((id) => tracks.some((track) => track.id === id && track.walked)),
  )
  const nameOf = (id: number): string => tracks.find((track) => track.id === id)?.name ?? `Track ${id}`
  return found.map(({ first, second, shiftM, offsetS }) => (
    <Notice key={`${first} ${second}`} tone="warn">
      {nameOf(first)} and {nameOf(second)} look like one walk recorded twice, {shiftM.toFixed(1)} m and{' '}
      {offsetS.toFixed(1)} s apart: its ground then counts twice. Or two people walked side by side.{' '}
      <Button size="compact-sm" variant="default" onClick={() => void countTrack(second, false)}>
        Leave out {nameOf(second)}
      </Button>
    </Notice>
  ))
}

/** Findspots that do not fit the walk of their visit; a person decides, nothing is moved. */
function Questions({ chances }: { readonly chances: ChancesView }) {
  const findspots = useList('findspots')
  const { questions } = chances.cover
  if (questions.length === 0) return null
  return (
    <details>
      <summary className={classes.summary}>{countText(questions.length, 'findspot')} to look at</summary>
      <ul className={classes.notes}>
        {questions.map(({ findspot, text }) => {
          const found = findspots.find(({ id }) => id === findspot)
          return (
            <li key={findspot}>
              {found ? (
                <Button size="compact-sm" variant="default" onClick={() => goToFindspot(found)}>
                  {found.name}
                </Button>
              ) : null}{' '}
              {text}
            </li>
          )
        })}
      </ul>
    </details>
  )
}

async function makeArea({ wish }: ChancesView): Promise<void> {
  try {
    const percent = Math.round(wish.gapChance * 100)
    const { name } = await deskApi.gapsArea({
      name: `Below ${percent} %`,
      leastM2: 0,
      only: wish.only,
    })
    tell('good', `${name} is now a search area.`, { label: 'Undo', run: () => void undoLast() })
  } catch (error) {
    tellFault(error)
  }
  await workOutCoverIfStale()
}
