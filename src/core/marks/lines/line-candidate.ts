import type { Tone } from '../candidate.ts'

/** Width of the narrowest line that can be looked for, pixels. */
export const leastLineWidthPx = 1.5

export interface LineSettings {
  /** Width of the ditch or bank, pixels; at least `leastLineWidthPx`. */
  readonly minWidthPx: number
  readonly maxWidthPx: number
  /** Shorter ones are not given. Pixels. */
  readonly leastLengthPx: number
  readonly tone: Tone | 'either'
  /** No more candidates than this are given, the best. */
  readonly most: number
  /** Metres, where it is known: tramlines are told by their gauge then, otherwise by their regularity alone. */
  readonly pixelM?: number
}

/** What of our own day looks like a line; a question for the person, never an answer. */
export const lineLookAlikes = ['tramlines', 'field edge', 'plough ridges'] as const
export type LineLookAlike = (typeof lineLookAlikes)[number]

/** Something that may be a ditch, a bank or a trackway, or with its sides an enclosure. It is a question until a person accepts it. */
export interface LineCandidate {
  readonly kind: 'line' | 'enclosure'
  /** Vertices of its middle, x and y in turn, pixels from the outer corner of the upper left one. Of an enclosure the first comes again as the last. */
  readonly xy: Float64Array
  /** Along the vertices, pixels. */
  readonly length: number
  /** Of the ditch or bank, pixels: a rough figure. */
  readonly width: number
  readonly tone: Tone
  /** Share of the way along which it is seen, 0 to 1. */
  readonly completeness: number
  /** Of the line against the ground on both sides, in standard deviations of the noise about it. */
  readonly contrast: number
  /** Between the middles of this line and one that runs beside it, pixels; null where none does. */
  readonly pairSpacing: number | null
  readonly mayBe: readonly LineLookAlike[]
  /** How many so good or better the grain of this image alone gives, a million pixels; of an enclosure no more than this. */
  readonly falseAlarmsPerMpx: number
}
