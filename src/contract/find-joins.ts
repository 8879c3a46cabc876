import * as z from 'zod'

export const joinStates = ['proposed', 'accepted', 'rejected'] as const
export const joinShape = z.object({
  first: z.number().int(),
  second: z.number().int(),
  state: z.enum(joinStates),
  /** 0 to 1; null where nobody worked it out. */
  score: z.number().nullable(),
  reasons: z.array(z.string()),
  note: z.string().nullable(),
  /** Between their findspots, metres; null where one has none. */
  distanceM: z.number().nullable(),
})
export type JoinView = z.infer<typeof joinShape>
/** PUT /api/joins */
export const joinEditShape = z.strictObject({
  first: z.number().int(),
  second: z.number().int(),
  state: z.enum(joinStates),
  note: z.string().max(1000).nullable().exactOptional(),
})
export type JoinEdit = z.infer<typeof joinEditShape>

/** POST /api/joins/together and /api/joins/part: finds that are of one object, or are not. */
export const joinedFindsShape = z.strictObject({
  ids: z.array(z.number().int().nonnegative()).min(2).max(200),
})

/** POST /api/joins/propose: looks for pairs of fragments that may be of one object. */
export const proposeJoinsShape = z.strictObject({
  /** How far pieces of one object commonly lie apart, metres. */
  spreadM: z.number().gt(0).lte(10_000),
  /** Pairs farther apart are not looked at, metres. */
  farthestM: z.number().gt(0).lte(10_000),
})
export type ProposeJoins = z.infer<typeof proposeJoinsShape>
export interface ProposedJoins {
  /** Pairs put forward that were not there before. */
  readonly added: number
  /** Fragments with a place that were weighed. */
  readonly fragments: number
}
