import type { LevelSource, LevelWindow } from './ground/levels.ts'

/** A part of the work that any thread can take: a window of a search, or one of its surrogates. `search` says by place whose it is. */
export type PartJob =
  | { readonly search: number; readonly window: LevelWindow }
  | { readonly search: number; readonly surrogate: number }

/** The jobs of one search. */
export function partJobs(search: number, windows: readonly LevelWindow[], surrogates: number): PartJob[] {
  return [
    ...windows.map((window) => ({ search, window })),
    ...Array.from({ length: surrogates }, (_, surrogate) => ({ search, surrogate })),
  ]
}

/**
 * How marks of one kind are looked for in parts that threads share: searches are planned; the ground of each is measured once, by whichever
 * thread is free, and told to the others in numbers; then come the jobs, in any order; at last what they gave is joined.
 */
export interface SearchInParts<
  Settings,
  Search,
  Ground,
  Job extends { readonly search: number },
  Result,
  Candidate,
> {
  /** Faults: RangeError for what cannot be looked for. */
  planned(settings: Settings): Search[]
  /** Null where the ground is flat or without data. The same in whichever thread. */
  groundOf(source: LevelSource, search: Search): Ground | null
  /** How many numbers tell a ground. */
  groundLength(search: Search): number
  writeGround(ground: Ground, out: Float64Array): void
  readGround(numbers: Float64Array): Ground
  /** Everything to be done; `search` of a job says by place whose it is. */
  jobs(source: Pick<LevelSource, 'columns' | 'rows'>, searches: readonly Search[]): Job[]
  done(source: LevelSource, search: Search, ground: Ground, job: Job): Result
  joined(results: readonly Result[], settings: Settings): Candidate[]
}
