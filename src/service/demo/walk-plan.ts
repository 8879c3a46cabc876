import type { Place } from './scenario.ts'

/** One afternoon's or morning's walk, as the walker meant it. Lengths in metres, times in seconds. */
export interface WalkPlan {
  readonly fileName: string
  readonly name: string
  /** Seconds since 1970-01-01 UTC. */
  readonly start: number
  /** The lanes along the contour lie in these bands of v, walked in order, `laneSpacing` apart. */
  readonly bands: readonly (readonly [low: number, high: number])[]
  /** Lanes up and down the slope over one patch, walked last; null for none. */
  readonly across: { readonly low: Place; readonly high: Place } | null
  /** Ground past this line on the low side is left out; null for none. */
  readonly corner: { readonly from: Place; readonly to: Place } | null
  /** Recording stops at this share of the path, for so many metres of it and so much longer; null for never. */
  readonly interruption: {
    readonly atShare: number
    readonly lengthM: number
    readonly extraS: number
  } | null
  readonly tea: { readonly atShare: number; readonly seconds: number } | null
}

export const laneSpacing = 1.7
/** Lanes end so far inside the hedge, and the pond is passed at this distance. */
export const edgeMargin = 0.8

/** The corner below this line was left out: a heap of manure lay there. */
const heapCorner = { from: { u: 41, v: -68 }, to: { u: 97, v: -19 } }

/** Between the bands of the second walk lies a strip seven metres wide that was left standing for the birds. */
export const walkPlans: readonly WalkPlan[] = [
  {
    fileName: '2026-09-12-walk-terrace-lower.gpx',
    name: 'Terrace field, lower half',
    start: Date.UTC(2026, 8, 12, 8, 10, 0) / 1000,
    bands: [[-69, -1]],
    across: null,
    corner: heapCorner,
    interruption: { atShare: 0.62, lengthM: 24, extraS: 410 },
    tea: null,
  },
  {
    fileName: '2026-09-20-walk-terrace-upper.gpx',
    name: 'Terrace field, upper half and mound',
    start: Date.UTC(2026, 8, 20, 8, 35, 0) / 1000,
    bands: [
      [-1, 35],
      [42, 68],
    ],
    across: { low: { u: -42, v: -8 }, high: { u: -8, v: 32 } },
    corner: null,
    interruption: null,
    tea: { atShare: 0.47, seconds: 1080 },
  },
]
