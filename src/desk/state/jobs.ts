import type { Job } from '#contract'
import { deskApi } from '../api/desk-api.ts'
import { tellFault } from './notices.ts'
import { createStore } from './store.ts'

/** The long work that runs now, by id. */
export const runningJobs = createStore<ReadonlyMap<string, Job>>(new Map())

type EndListener = (job: Job) => void
const endListeners = new Set<EndListener>()

/** Takes in what the server says of a job. */
export function noteJob(job: Job): void {
  runningJobs.set((now) => {
    const next = new Map(now)
    if (job.state === 'running') next.set(job.id, job)
    else next.delete(job.id)
    return next
  })
  if (job.state !== 'running') for (const listener of [...endListeners]) listener(job)
}

/** Forgets all jobs: after the server was away, it tells anew of those that run. */
export function forgetJobs(): void {
  runningJobs.set(new Map())
}

/** Calls `ended` for every job that ends; returns a function that stops it. */
export function onJobEnd(ended: EndListener): () => void {
  endListeners.add(ended)
  return () => endListeners.delete(ended)
}

/** Asks the server to stop a job. One that has just ended is no fault. */
export function cancelJob(id: string): void {
  deskApi.cancelJob(id).catch((error: unknown) => {
    if (runningJobs.get().has(id)) tellFault(error)
  })
}

/** The one running job of a kind, if there is one. */
export function jobOfKind(jobs: ReadonlyMap<string, Job>, kind: Job['kind']): Job | null {
  for (const job of jobs.values()) if (job.kind === kind) return job
  return null
}
