import type { ImportedFile } from '#contract'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey } from '../api/queries.ts'
import { RequestError, sentenceOf } from '../api/request.ts'
import { workOutCoverIfStale } from '../state/cover-run.ts'
import { cancelJob, jobOfKind, runningJobs } from '../state/jobs.ts'
import { createStore } from '../state/store.ts'

/** What became of one file that was given to the desk. */
export interface FileOutcome {
  readonly name: string
  /** Null where it could not be taken at all; `fault` then says why. */
  readonly imported: ImportedFile | null
  readonly fault: string | null
}

export interface ImportState {
  /** The file being read: its name, and which it is of how many. */
  readonly reading: { readonly name: string; readonly place: number; readonly total: number } | null
  /** Outcomes of the files given since the summary was last closed. */
  readonly outcomes: readonly FileOutcome[]
  /** Rises when a batch has ended, so that the map knows when to go there. */
  readonly batch: number
}

export const importState = createStore<ImportState>({ reading: null, outcomes: [], batch: 0 })

interface Waiting {
  readonly file: File
  /** The names of all files given with it. */
  readonly together: readonly string[]
}

const waiting: Waiting[] = []
let controller: AbortController | null = null
let place = 0
/** True once the server has begun to read the file that was sent. */
let serverHasIt = false

/** The words for a file that did not come in. */
function faultOf(error: unknown, aborted: boolean): string {
  if (aborted) return 'Cancelled while it was being sent.'
  if (error instanceof RequestError && error.code === 'cancelled') return 'Cancelled; nothing of it came in.'
  return sentenceOf(error)
}

async function takeOne({ file, together }: Waiting, signal: AbortSignal): Promise<FileOutcome> {
  serverHasIt = false
  const stop = runningJobs.watch(() => {
    if (jobOfKind(runningJobs.get(), 'import')) serverHasIt = true
  })
  try {
    return { name: file.name, imported: await deskApi.importFile(file, together, signal), fault: null }
  } catch (error) {
    return { name: file.name, imported: null, fault: faultOf(error, signal.aborted) }
  } finally {
    stop()
  }
}

/** Takes in all that waits. */
async function takeAll(): Promise<void> {
  controller = new AbortController()
  const { signal } = controller
  for (let next = waiting.shift(); next; next = waiting.shift()) {
    place += 1
    const { name } = next.file
    importState.set((now) => ({ ...now, reading: { name, place, total: place + waiting.length } }))
    const outcome = await takeOne(next, signal)
    importState.set((now) => ({ ...now, outcomes: [...now.outcomes, outcome] }))
  }
  controller = null
}

async function work(): Promise<void> {
  place = 0
  do {
    await takeAll()
    // The survey before the map goes there: it may only now know its grid.
    await refreshSurvey()
  } while (waiting.length > 0)
  importState.set((now) => ({ ...now, reading: null, batch: now.batch + 1 }))
  await workOutCoverIfStale()
}

const saysPlace = /\.(prj|wld|[a-z]+w)$/i

/** World and .prj files before the pictures that they place: those then come in with their place. */
export function placesFirst<Named extends { readonly name: string }>(files: readonly Named[]): Named[] {
  return [...files].sort((a, b) => Number(saysPlace.test(b.name)) - Number(saysPlace.test(a.name)))
}

/** Takes files in, one after another. More may be given while some are read; the summary then holds them all. */
export function importFiles(files: Iterable<File>): void {
  const given = placesFirst([...files])
  const together = given.map(({ name }) => name)
  waiting.push(...given.map((file) => ({ file, together })))
  if (waiting.length === 0) return
  const { reading } = importState.get()
  if (reading) importState.set((now) => ({ ...now, reading: { ...reading, total: place + waiting.length } }))
  else {
    importState.set((now) => ({ ...now, outcomes: [] }))
    void work()
  }
}

/**
 * Stops the file being read and forgets those that wait. What came in before stays. A file that the server is reading is
 * cancelled there, and its answer is waited for: only the server knows whether the file came in after all.
 */
export function cancelImport(): void {
  waiting.length = 0
  const job = jobOfKind(runningJobs.get(), 'import')
  if (job) cancelJob(job.id)
  else if (!serverHasIt) controller?.abort()
}

/** Closes the summary. */
export function closeSummary(): void {
  importState.set((now) => ({ ...now, outcomes: [] }))
}
