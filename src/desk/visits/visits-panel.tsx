import type { ReactNode } from 'react'
import type { SurveyView } from '#contract'
import { Panel, Section } from '#ui'
import { CoverAction } from './cover-action.tsx'
import { CoverFigures, CoverNotes } from './cover-figures.tsx'
import { GapList } from './gap-list.tsx'
import { SettingsForm, SwathRow } from './settings-form.tsx'
import { TrackList } from './track-list.tsx'
import classes from './visits-panel.module.css'

interface VisitsPanelProps {
  readonly survey: SurveyView
  readonly aside: ReactNode
}

/** Visits: the tracks, the ground they covered, and the ground that was missed. */
export function VisitsPanel({ survey, aside }: VisitsPanelProps) {
  const { cover } = survey
  return (
    <Panel title="Visits" aside={aside}>
      <Section>
        <div className={classes.main}>
          <SwathRow settings={survey.settings} />
          <CoverAction survey={survey} />
        </div>
      </Section>
      {cover ? <CoverFigures cover={cover} /> : null}
      <GapList count={cover?.gaps.count ?? 0} />
      <TrackList count={survey.counts.tracks} />
      <SettingsForm settings={survey.settings} />
      {cover ? <CoverNotes cover={cover} /> : null}
    </Panel>
  )
}
