import type { Job, SurveyView } from '#contract'
import { queryClient, refreshList, refreshSurvey } from '../api/queries.ts'
import { forgetJobs, noteJob } from './jobs.ts'
import { createStore } from './store.ts'

/** 'lost': nothing answers. 'shut-out': a server answers but does not know this page, since it was started anew. */
export type Connection = 'open' | 'lost' | 'shut-out'

export const connection = createStore<Connection>('open')

const retryMs = 2000

/** The revision of what the page shows; undefined while it waits for its first answer, which will be fresh. */
function shownRevision(): number | undefined {
  return queryClient.getQueryData<SurveyView>(['survey'])?.revision
}

async function whyLost(): Promise<Connection> {
  const reply = await fetch('/api/jobs').catch(() => null)
  return reply !== null && (reply.status === 401 || reply.status === 403) ? 'shut-out' : 'lost'
}

/** Listens to the server for as long as the page lives, and comes back by itself. Called once. */
export function listenToServer(): void {
  const events = new EventSource('/api/events')
  events.addEventListener('open', () => {
    forgetJobs()
    if (connection.get() !== 'open') void refreshSurvey()
    connection.set('open')
  })
  events.addEventListener('job', (event) => noteJob(JSON.parse(event.data) as Job))
  events.addEventListener('survey', (event) => {
    const { revision } = JSON.parse(event.data) as { revision: number }
    const shown = shownRevision()
    if (shown === undefined) return
    // Of the same revision: nothing of the survey has changed, but a layer may look better than before.
    void (shown === revision ? refreshList('layers') : refreshSurvey())
  })
  events.addEventListener('error', () => {
    void whyLost().then((state) => {
      if (events.readyState !== EventSource.OPEN) connection.set(state)
    })
    // After a refusal the browser gives up; a fresh try is ours to make.
    if (events.readyState === EventSource.CLOSED) setTimeout(listenToServer, retryMs)
  })
}
