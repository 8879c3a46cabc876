/** Chances of one choice of visits. The store does not look into the JSON values, nor into `surface` (deflated by the caller). */
export interface ChancesToSave {
  readonly id: string
  /** Which visits, as one text: a later row of the same choice takes its place. */
  readonly choice: string
  /** What they were made of, as one text: other words later mean that they are out of date. */
  readonly madeOf: string
  readonly wish: unknown
  readonly figures: unknown
  readonly gaps: unknown
  readonly surface: Uint8Array
}

export interface StoredChances extends Pick<ChancesToSave, 'id' | 'choice' | 'madeOf' | 'wish' | 'figures'> {
  /** Seconds since 1970-01-01 UTC. */
  readonly madeAt: number
  /** False where the surface has gone to make room. */
  readonly hasSurface: boolean
}

/** The chances kept in an open survey. Faults as for `SurveyFile`. */
export interface ChancesFile {
  /** Keeps these in place of those of the same choice. Surfaces of the oldest go where all together are larger than 40 MB. */
  save(chances: ChancesToSave): void
  /** The oldest first, without gaps and surfaces. */
  list(): StoredChances[]
  /** The gaps as they were given; null for chances no longer kept. */
  gaps(id: string): unknown
  /** Null for chances no longer kept, or whose surface has gone. */
  surface(id: string): Uint8Array | null
}
