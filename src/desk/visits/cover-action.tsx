import { Button } from '@mantine/core'
import { IconRoute } from '@tabler/icons-react'
import type { SurveyView } from '#contract'
import { EmptyState, Notice, ProgressBar } from '#ui'
import { useList } from '../api/queries.ts'
import { FilesButton } from '../files/files-button.tsx'
import { coverFault, mayHaveCover, workOutCover } from '../state/cover-run.ts'
import { showStage } from '../state/desk-state.ts'
import { cancelJob, jobOfKind, runningJobs } from '../state/jobs.ts'
import { useStore } from '../state/store.ts'
import classes from './visits-panel.module.css'

/** What the survey lacks for a cover, and the way to it. */
function Missing({ survey }: { readonly survey: SurveyView }) {
  if (survey.counts.tracks === 0)
    return (
      <EmptyState title="No track yet" action={<FilesButton label="Choose files" />}>
        Add the track of a walk as GPX, KML, GeoJSON or CSV, or drop it anywhere on this page.
      </EmptyState>
    )
  return (
    <EmptyState
      title="No search area yet"
      action={
        <Button variant="default" onClick={() => showStage('land')}>
          Go to Land
        </Button>
      }
    >
      The cover is worked out within search areas. Draw one, or add its outline.
    </EmptyState>
  )
}

/** The stage's main action: the cover, or how far it has come, or what is missing for it. */
export function CoverAction({ survey }: { readonly survey: SurveyView }) {
  const job = jobOfKind(useStore(runningJobs), 'cover')
  const fault = useStore(coverFault)
  const areas = useList('areas')
  if (!mayHaveCover(survey, areas)) return <Missing survey={survey} />
  const stale = survey.cover !== null && survey.coverStale
  return (
    <div className={classes.main}>
      {job ? (
        <ProgressBar label={job.label} done={job.done} onCancel={() => cancelJob(job.id)} />
      ) : (
        <Button
          fullWidth
          variant={survey.cover === null || stale ? 'filled' : 'default'}
          leftSection={<IconRoute size={18} aria-hidden="true" />}
          onClick={() => void workOutCover()}
        >
          Work out the cover
        </Button>
      )}
      {fault !== null && !job ? <Notice tone="fault">{fault}</Notice> : null}
      {stale && !job ? (
        <Notice tone="warn">
          Tracks, areas or settings have changed since this cover was worked out. The figures below are the
          older ones.
        </Notice>
      ) : null}
    </div>
  )
}
