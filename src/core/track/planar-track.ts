/**
 * One walked path in a planar grid, in metres: what a `RecordedTrack` becomes once it has been projected.
 * The fixes stand in the order in which they were recorded.
 */
export interface PlanarTrack {
  readonly epsg: number
  /** Interleaved easting, northing, one pair a fix; NaN where a fix has no place in the grid. */
  readonly xy: Float64Array
  /** Index of the first fix of each segment, ascending; ground between segments was not walked. */
  readonly segmentStart: Uint32Array
  /** Seconds since 1970-01-01 UTC, NaN where unknown; null if no fix has a time. */
  readonly time: Float64Array | null
}
