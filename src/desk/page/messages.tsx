import { Notice, ProgressBar } from '#ui'
import { ImportTray } from '../files/import-tray.tsx'
import { connection } from '../state/connection.ts'
import { panelOpen, stage } from '../state/desk-state.ts'
import { cancelJob, jobOfKind, runningJobs } from '../state/jobs.ts'
import { dismissNotice, notices } from '../state/notices.ts'
import { useStore } from '../state/store.ts'

const lostWords = {
  lost: 'The desk has lost its server. Start it again with npm start, and open the address that it prints.',
  'shut-out': 'The server was started anew and does not know this page. Open the address that it printed.',
} as const

/** How far the cover has come, while the panel that shows it is not open. */
function CoverProgress() {
  const job = jobOfKind(useStore(runningJobs), 'cover')
  const now = useStore(stage)
  const open = useStore(panelOpen)
  if (!job || (open && now === 'visits')) return null
  return <ProgressBar label={job.label} done={job.done} onCancel={() => cancelJob(job.id)} />
}

/** What is being made ready of pictures and terrain models. */
function LayerProgress() {
  const jobs = [...useStore(runningJobs).values()].filter(({ kind }) => kind === 'layer')
  return jobs.map((job) => (
    <ProgressBar key={job.id} label={job.label} done={job.done} onCancel={() => cancelJob(job.id)} />
  ))
}

/** What floats over the lower part of the map: the connection if it is lost, what came in, and messages. */
export function Messages() {
  const entries = useStore(notices)
  const state = useStore(connection)
  return (
    <>
      <ImportTray />
      <CoverProgress />
      <LayerProgress />
      <div aria-live="polite" style={{ display: 'contents' }}>
        {state === 'open' ? null : <Notice tone="fault">{lostWords[state]}</Notice>}
        {entries.map(({ id, tone, text, action }) => (
          <Notice key={id} tone={tone} action={action} onDismiss={() => dismissNotice(id)}>
            {text}
          </Notice>
        ))}
      </div>
    </>
  )
}
