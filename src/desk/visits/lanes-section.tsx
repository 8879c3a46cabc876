import { Button } from '@mantine/core'
import type { LanesWalkedView, LanesWalkedWish } from '#contract'
import {
  countText,
  FigureTile,
  FigureTiles,
  Legend,
  LegendEntry,
  LineSwatch,
  lengthText,
  momentText,
  Notice,
  NumberRow,
  Section,
  ShareFigure,
  shareText,
  wholeNumber,
} from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey, useLanesWalked, useList } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { SelectRow } from '../layers/select-row.tsx'
import { goTo } from '../map/map-state.ts'
import { workOutCoverIfStale } from '../state/cover-run.ts'
import { tell, tellFault } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import { undoLast } from '../survey/undo.ts'
import { boundsOfPairs, laneName } from './lane-lines.ts'
import { useLanesWish } from './use-lanes-wish.ts'
import classes from './visits-panel.module.css'
import { comparedPlan, lanesCompared, laneTolerance } from './visits-state.ts'

const fits = 'fits'

/** The visits that are chosen above, set against a plan: lanes walked, skipped, strayed from. */
export function LanesSection() {
  const plans = useList('plans')
  const visits = useList('visits')
  const on = useStore(lanesCompared)
  const wanted = useStore(comparedPlan)
  const toleranceM = useStore(laneTolerance)
  const wish = useLanesWish()
  const { data, error, isPlaceholderData } = useLanesWalked(wish)
  if (plans.length === 0 || visits.length === 0) return null
  return (
    <Section title="Lanes walked" aside={countText(plans.length, 'plan')}>
      <div className={classes.main}>
        <label className={classes.check}>
          <input
            type="checkbox"
            checked={on}
            onChange={(event) => lanesCompared.set(event.currentTarget.checked)}
          />
          Compare the visits with a plan
        </label>
        {on ? (
          <>
            <SelectRow
              label="Plan"
              value={plans.some(({ id }) => id === wanted) ? String(wanted) : fits}
              choices={[
                { value: fits, text: 'the one that fits' },
                ...plans.map(({ id, name }) => ({ value: String(id), text: name })),
              ]}
              onChange={(value) => comparedPlan.set(value === fits ? null : Number(value))}
            />
            <NumberRow
              label="Beside a lane by"
              hint="Farther off does not count as along it"
              unit="m"
              value={toleranceM}
              mayBeEmpty
              placeholder={data ? data.toleranceM.toFixed(1) : 'auto'}
              refuse={(value) => (value > 0 && value <= 100 ? null : 'Give a value above 0 up to 100 m.')}
              onChange={laneTolerance.set}
            />
            {error ? <Notice tone="fault">{sentenceOf(error)}</Notice> : null}
            {data && wish ? <LaneFigures lanes={data} wish={wish} waiting={isPlaceholderData} /> : null}
            {!data && !error ? <p className={classes.words}>Setting the tracks against the lanes …</p> : null}
          </>
        ) : null}
      </div>
    </Section>
  )
}

interface LaneFiguresProps {
  readonly lanes: LanesWalkedView
  readonly wish: LanesWalkedWish
  /** True while what is shown is of an older wish. */
  readonly waiting: boolean
}

function LaneFigures({ lanes: view, wish, waiting }: LaneFiguresProps) {
  const { lanes, strayings, plannedM, walkedM, offM, planName, notes } = view
  const count = (state: string): number => lanes.filter((lane) => lane.state === state).length
  const strayedM = strayings.reduce((sum, { metres }) => sum + metres, 0)
  const missed = lanes.filter(({ state }) => state !== 'walked')
  return (
    <div className={classes.main} aria-busy={waiting} data-testid="lanes-walked">
      <ShareFigure
        label={`of ${planName} walked`}
        value={shareText(plannedM > 0 ? walkedM / plannedM : 0)}
        share={plannedM > 0 ? walkedM / plannedM : 0}
        testId="lanes-share"
      />
      <FigureTiles>
        <FigureTile label="Planned" value={lengthText(plannedM)} />
        <FigureTile label="Lanes walked" value={wholeNumber(count('walked'))} testId="lanes-whole" />
        <FigureTile label="Walked in part" value={wholeNumber(count('part'))} />
        <FigureTile label="Skipped" value={wholeNumber(count('skipped'))} testId="lanes-skipped" />
        <FigureTile label="Beside the lane" value={offM === null ? '–' : lengthText(offM)} note="median" />
        <FigureTile
          label="Along no lane"
          value={lengthText(strayedM)}
          note={strayings.length > 0 ? countText(strayings.length, 'time') : undefined}
        />
      </FigureTiles>
      <Legend>
        <LegendEntry symbol={<LineSwatch symbol="laneWalked" />}>Lane walked</LegendEntry>
        <LegendEntry symbol={<LineSwatch symbol="laneMissed" />}>Not walked</LegendEntry>
        <LegendEntry symbol={<LineSwatch symbol="strayed" />}>Walked along no lane</LegendEntry>
      </Legend>
      <LaneList lanes={view} />
      {missed.length > 0 ? (
        <div className={classes.buttons}>
          <Button variant="default" onClick={() => void keepArea(wish, view)}>
            Make a search area of what was missed
          </Button>
          <Button variant="default" onClick={() => void keepPlan(wish, view)}>
            Make a plan of it
          </Button>
        </div>
      ) : null}
      <ul className={classes.notes}>
        {notes.map((note) => (
          <li key={note}>{note}</li>
        ))}
      </ul>
    </div>
  )
}

/** Lanes that were not wholly walked, and ways along no lane: one that is chosen is gone to. */
function LaneList({ lanes: { lanes, strayings } }: { readonly lanes: LanesWalkedView }) {
  const several = lanes.some(({ walker }) => walker > 1)
  const missed = lanes.filter(({ state }) => state !== 'walked')
  return (
    <>
      {missed.length > 0 ? (
        <details>
          <summary className={classes.summary}>
            {countText(missed.length, 'lane')} missed, or walked in part
          </summary>
          <ul className={classes.places}>
            {missed.map((lane) => (
              <li key={`${lane.walker} ${lane.number}`}>
                <Button size="compact-sm" variant="default" onClick={() => goTo(boundsOfPairs(lane.xy))}>
                  {laneName(lane, several)}
                </Button>{' '}
                {lane.state === 'skipped'
                  ? `skipped, ${lengthText(lane.lengthM)}`
                  : `${lengthText(lane.lengthM - lane.walkedM)} of ${lengthText(lane.lengthM)} missed`}
              </li>
            ))}
          </ul>
        </details>
      ) : null}
      {strayings.length > 0 ? (
        <details>
          <summary className={classes.summary}>{countText(strayings.length, 'way')} along no lane</summary>
          <ul className={classes.places}>
            {strayings.map(({ start, metres, offM, xy }, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: they have no name, and the list comes whole.
              <li key={i}>
                <Button size="compact-sm" variant="default" onClick={() => goTo(boundsOfPairs(xy))}>
                  {start === null ? `Way ${i + 1}` : momentText(start)}
                </Button>{' '}
                {lengthText(metres)}, up to {lengthText(offM)} from the nearest lane
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </>
  )
}

const undo = { label: 'Undo', run: () => void undoLast() }

async function keepArea(wish: LanesWalkedWish, { planName }: LanesWalkedView): Promise<void> {
  try {
    const { name } = await deskApi.missedArea({ wish, name: `Missed of ${planName}`.slice(0, 200) })
    tell('good', `${name} is now a search area.`, undo)
  } catch (error) {
    tellFault(error)
  }
  await workOutCoverIfStale()
}

async function keepPlan(wish: LanesWalkedWish, { plan, planName }: LanesWalkedView): Promise<void> {
  try {
    const { name } = await deskApi.missedPlan({ wish, name: `Missed of ${planName}`.slice(0, 200) })
    // The new one lies in the same ground, and would be the one that fits.
    comparedPlan.set(plan)
    tell('good', `${name} is kept in Plan.`, undo)
  } catch (error) {
    tellFault(error)
  }
  await refreshSurvey()
}
