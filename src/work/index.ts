export type { WorkOptions } from './in-worker.ts'
export { readFileInThread } from './read-file.ts'
export type { ReadOutcome } from './read-worker.ts'
export { ostn15 } from './shift-grid.ts'
