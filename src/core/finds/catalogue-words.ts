/** What happens to a find, as its history calls it. */
export const eventKinds = [
  'found',
  'bagged',
  'cleaned',
  'weighed',
  'shown',
  'reported',
  'returned',
  'other',
] as const
export type EventKind = (typeof eventKinds)[number]

/** What a photograph of a find shows. */
export const photographRoles = ['obverse', 'reverse', 'profile', 'in the ground', 'other'] as const
export type PhotographRole = (typeof photographRoles)[number]
