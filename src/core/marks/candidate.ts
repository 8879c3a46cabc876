/**
 * One band of numbers that marks are looked for in. Row 0 is the uppermost; pixel (row, column) is
 * `row * columns + column`. Any unit: brightness, an index, a height. The values may stand on shared memory.
 */
export interface Raster {
  readonly columns: number
  readonly rows: number
  /** NaN where there is no data. */
  readonly values: Float32Array
}

/** Whether a mark is darker or lighter than the ground beside it (lower or higher, in a terrain). */
export type Tone = 'dark' | 'light'

export interface RingSettings {
  /** Of the centre line of the ditch, pixels; at least 4. */
  readonly minDiameterPx: number
  readonly maxDiameterPx: number
  readonly tone: Tone | 'either'
  /** No more candidates than this are given, the best. */
  readonly most: number
}

/** A part of a ring that is not seen; bearings in degrees clockwise from up (from row 0), `toDeg` may pass 360. */
export interface RingGap {
  readonly fromDeg: number
  readonly toDeg: number
}

/** Something that may be a ring. It is a question until a person accepts it. */
export interface RingCandidate {
  /** Centre, pixels from the outer corner of the upper left pixel, whose own centre is (0.5, 0.5). */
  readonly x: number
  readonly y: number
  /** Of the centre line of the ditch, pixels. */
  readonly diameter: number
  /** Pixels. */
  readonly ditchWidth: number
  readonly tone: Tone
  /** Share of the circle that is seen, 0 to 1. */
  readonly completeness: number
  readonly gaps: readonly RingGap[]
  /** Shorter diameter over longer, 0 to 1. */
  readonly ellipticity: number
  /** Of the ring against the ground inside and outside, in standard deviations of the noise about it. */
  readonly contrast: number
  /** Chance that this is a ring on scenes like those of the training, 0 to 1; orders candidates. */
  readonly score: number
  /** How many candidates of this score or better ringless ground like that of the image gives, a million pixels. */
  readonly falseAlarmsPerMpx: number
}
