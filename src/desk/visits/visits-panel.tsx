import type { ReactNode } from 'react'
import type { SurveyView } from '#contract'
import { Panel, Section } from '#ui'
import { MatchButton } from '../photographs/match-button.tsx'
import { useStore } from '../state/store.ts'
import { ChancesSection } from './chances-section.tsx'
import { CoverAction } from './cover-action.tsx'
import { CoverFigures, CoverNotes } from './cover-figures.tsx'
import { GapList } from './gap-list.tsx'
import { LanesSection } from './lanes-section.tsx'
import { SettingsForm, SwathRow } from './settings-form.tsx'
import { TrackList } from './track-list.tsx'
import { VisitList } from './visit-list.tsx'
import classes from './visits-panel.module.css'
import { coverShown, gapCount, useChosenChances } from './visits-state.ts'

interface VisitsPanelProps {
  readonly survey: SurveyView
  readonly aside: ReactNode
}

/** Visits: the tracks, the ground they covered, and the ground that was missed. */
export function VisitsPanel({ survey, aside }: VisitsPanelProps) {
  const { cover } = survey
  const chances = useChosenChances()
  const byChance = useStore(coverShown) === 'chance' ? chances : null
  return (
    <Panel title="Visits" aside={aside}>
      <Section>
        <div className={classes.main}>
          <SwathRow settings={survey.settings} />
          <CoverAction survey={survey} />
        </div>
      </Section>
      {cover ? <CoverFigures cover={cover} /> : null}
      <ChancesSection survey={survey} />
      <LanesSection />
      <VisitList />
      {survey.counts.findspots > 0 ? (
        <Section title="Photographs">
          <MatchButton />
        </Section>
      ) : null}
      <GapList count={gapCount(survey, byChance)} />
      <TrackList count={survey.counts.tracks} />
      <SettingsForm settings={survey.settings} />
      {cover ? <CoverNotes cover={cover} /> : null}
    </Panel>
  )
}
