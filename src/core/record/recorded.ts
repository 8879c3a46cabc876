import type { Polygon } from '#core/geometry'

/**
 * Positions as a file gave them. `epsg` 4326 means longitude, latitude in degrees on WGS84, in that order; a planar code
 * (27700, 326xx, 327xx, 2157, 29903 …) means easting, northing in metres. Nothing is converted or rounded here.
 */
interface Positioned {
  readonly epsg: number
}

/** Text given for some fixes only, kept so that nothing in a file is lost: fix `at[i]` carries `text[i]`. */
export interface ExtraSeries {
  readonly name: string
  readonly at: readonly number[]
  readonly text: readonly string[]
}

/** One recorded path: a GPX trk or rte, a line of KML or GeoJSON, or the rows of a CSV. */
export interface RecordedTrack extends Positioned {
  readonly name: string | null
  /** False for a planned line (a GPX rte): it is kept and shown but is not walked ground. */
  readonly walked: boolean
  /** Interleaved pairs, one pair a fix. */
  readonly xy: Float64Array
  /** Index of the first fix of each segment, ascending; empty for a track with no fix. Ground between segments was not walked. */
  readonly segmentStart: Uint32Array
  /** Seconds since 1970-01-01 UTC, NaN where unknown; null if no fix has a time. */
  readonly time: Float64Array | null
  /** Metres as recorded (usually above the ellipsoid or a receiver's own geoid), NaN where unknown; null if none. */
  readonly elevation: Float64Array | null
  /** Horizontal dilution of precision (a pure number), NaN where unknown; null if none. */
  readonly hdop: Float64Array | null
  /** Everything else found at fixes: satellites, kind of fix, speed, and the leaves of extensions. */
  readonly extras: readonly ExtraSeries[]
  /** Everything else found at the track: comment, description, source, link, type, extensions. */
  readonly attributes: Readonly<Record<string, string>>
}

/** One polygon feature, of one or several parts. */
export interface RecordedArea extends Positioned {
  readonly name: string | null
  readonly polygons: readonly Polygon[]
  readonly attributes: Readonly<Record<string, string>>
}

/** What was found at a spot, where the file says so. */
export interface RecordedFind {
  /** The number written on the bag, as given; null where the file gives none. */
  readonly number: string | null
  readonly object: string
  readonly material: string | null
  readonly period: string | null
  readonly count: number
  readonly weightG: number | null
  readonly depthM: number | null
}

/** One place where something was found: a GPX wpt, a point of KML or GeoJSON, a row of a CSV. */
export interface RecordedFindspot extends Positioned {
  readonly name: string | null
  readonly x: number
  readonly y: number
  /** Radius in metres that holds the true position with about 68 % chance; half the diagonal for a grid square; null if not known. */
  readonly accuracyM: number | null
  readonly elevation: number | null
  /** Seconds since 1970-01-01 UTC, null where unknown. */
  readonly time: number | null
  readonly note: string | null
  readonly find: RecordedFind | null
  readonly attributes: Readonly<Record<string, string>>
}
