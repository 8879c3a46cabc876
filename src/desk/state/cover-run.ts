import type { AreaView, Job, SurveyView } from '#contract'
import { deskApi } from '../api/desk-api.ts'
import { knownList, queryClient, refreshSurvey } from '../api/queries.ts'
import { panelOpen, stage } from './desk-state.ts'
import { cancelJob, jobOfKind, onJobEnd, runningJobs } from './jobs.ts'
import { tell, tellFault } from './notices.ts'
import { createStore } from './store.ts'

/** Why the last try to work out the cover came to nothing: shown beside its button until the next try. */
export const coverFault = createStore<string | null>(null)

/** True when the survey holds what a cover is worked out from; its areas may not have come yet. */
export function mayHaveCover({ counts }: SurveyView, areas: readonly AreaView[]): boolean {
  const searched = areas.length === 0 || areas.some(({ kind }) => kind === 'search')
  return counts.areas > 0 && searched && counts.tracks > 0
}

function ended(id: string): Promise<Job> {
  return new Promise((resolve) => {
    const stop = onJobEnd((job) => {
      if (job.id !== id) return
      stop()
      resolve(job)
    })
  })
}

/** Ends a cover that is being worked out from what no longer holds. */
async function endRunning(): Promise<void> {
  const running = jobOfKind(runningJobs.get(), 'cover')
  if (!running) return
  const over = ended(running.id)
  cancelJob(running.id)
  await over
}

/** Works the cover out anew. What it came to is seen in the survey; a fault is kept in `coverFault`. */
export async function workOutCover(): Promise<void> {
  coverFault.set(null)
  try {
    await endRunning()
    await deskApi.startCover()
  } catch (error) {
    tellFault(error)
  }
}

/** The same, if the survey as it now stands asks for it: after an import, a change of settings or of an area. */
export async function workOutCoverIfStale(): Promise<void> {
  await refreshSurvey()
  const survey = queryClient.getQueryData<SurveyView>(['survey'])
  if (!survey || !mayHaveCover(survey, knownList('areas'))) return
  if (survey.cover === null || survey.coverStale) await workOutCover()
}

onJobEnd((job) => {
  if (job.kind !== 'cover') return
  if (job.state === 'failed') {
    const sentence = job.error?.text ?? 'The cover could not be worked out.'
    coverFault.set(sentence)
    // The panel that shows it may not be open.
    if (!panelOpen.get() || stage.get() !== 'visits') tell('fault', sentence)
  }
  void refreshSurvey()
})
