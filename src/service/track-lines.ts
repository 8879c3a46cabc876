import type { PlanarGrid } from '#core/geodesy'
import { thinLine } from '#core/geometry'
import type { SurveyFile } from '#store'
import { projected } from './projecting.ts'

/** Most lines kept at once; a thinned line is small, the fixes of a long track are read anew for each tolerance. */
const kept = 200

/** Lines of tracks for the map, thinned and kept while the survey stays as it is: one survey at a time. */
export class TrackLines {
  readonly #lines = new Map<string, Float64Array>()
  #survey: SurveyFile | null = null
  #revision = -1

  /** Interleaved easting, northing; a NaN pair between segments and where the grid does not reach. */
  line(survey: SurveyFile, grid: PlanarGrid, id: number, toleranceM: number): Float64Array {
    const revision = survey.groundRevision()
    if (survey !== this.#survey || revision !== this.#revision) this.#lines.clear()
    this.#survey = survey
    this.#revision = revision
    const key = `${id}@${toleranceM}`
    const known = this.#lines.get(key)
    if (known) return known
    const { xy, segmentStart } = survey.track(id)
    const line = joinedSegments(thinnedSegments(projected(xy, grid.forward), segmentStart, toleranceM))
    if (this.#lines.size >= kept) this.#lines.clear()
    this.#lines.set(key, line)
    return line
  }
}

function thinnedSegments(xy: Float64Array, segmentStart: Uint32Array, toleranceM: number): Float64Array[] {
  const segments: Float64Array[] = []
  for (const [k, start] of segmentStart.entries()) {
    const end = segmentStart[k + 1] ?? xy.length / 2
    const segment = xy.subarray(2 * start, 2 * end).filter((value) => !Number.isNaN(value))
    if (segment.length > 0) segments.push(thinLine(segment, toleranceM))
  }
  return segments
}

function joinedSegments(segments: readonly Float64Array[]): Float64Array {
  const length = segments.reduce((sum, segment) => sum + segment.length + 2, 0)
  const line = new Float64Array(Math.max(0, length - 2)).fill(Number.NaN)
  let at = 0
  for (const segment of segments) {
    line.set(segment, at)
    at += segment.length + 2
  }
  return line
}
