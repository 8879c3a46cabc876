import type { ExtraSeries, RecordedTrack } from '#core/record'
import { float64At, parsedJson, textAt } from './cells.ts'
import type { Row } from './connection.ts'
import type { Problem } from './survey-file.ts'

/**
 * What a track carries beside its vertices: how many fixes that is for, which segments had one fix only, and the extra
 * series. `at` is written as runs (start, length, start, length …), for most series cover all fixes.
 */
interface TrackDetail {
  readonly fixes: number
  readonly single: readonly number[]
  readonly extras: readonly {
    readonly name: string
    readonly runs: readonly number[]
    readonly text: readonly string[]
  }[]
}

/** JSON text; cost: one JSON string an extra value. */
export function detailCell(track: RecordedTrack, single: readonly number[]): string {
  const detail: TrackDetail = {
    fixes: track.xy.length / 2,
    single,
    extras: track.extras.map(({ name, at, text }) => ({ name, runs: runsOf(at), text })),
  }
  return JSON.stringify(detail)
}

function runsOf(at: readonly number[]): number[] {
  const runs: number[] = []
  for (const [i, fix] of at.entries()) {
    if (i > 0 && fix === at[i - 1]! + 1) runs[runs.length - 1]!++
    else runs.push(fix, 1)
  }
  return runs
}

function indicesOf(runs: readonly number[]): number[] {
  const at: number[] = []
  for (let r = 0; r + 1 < runs.length; r += 2) {
    for (let i = 0; i < runs[r + 1]!; i++) at.push(runs[r]! + i)
  }
  return at
}

/** The cell read back; null where there is none or another program wrote something else there. */
export function detailAt(row: Row): TrackDetail | null {
  const value = parsedJson(textAt(row, 'detail') ?? 'null') as Partial<TrackDetail> | null | undefined
  return value !== null &&
    typeof value === 'object' &&
    Array.isArray(value.single) &&
    Array.isArray(value.extras)
    ? (value as TrackDetail)
    : null
}

/** Extras and dilution of precision that still fit `fixes` vertices; what does not fit is left out and told of. */
export function besideFixes(
  row: Row,
  fixes: number,
): { hdop: Float64Array | null; extras: ExtraSeries[]; problems: Problem[] } {
  const detail = detailAt(row)
  const hdop = float64At(row, 'hdop')
  if (detail === null && hdop === null) return { hdop: null, extras: [], problems: [] }
  const recorded = detail?.fixes ?? hdop?.length ?? fixes
  if (recorded !== fixes || (hdop !== null && hdop.length !== fixes)) {
    const name = textAt(row, 'name') ?? 'a track without a name'
    const text = `Another program changed the number of fixes of ${name} from ${recorded} to ${fixes}; what was recorded at single fixes beside position, height and time (satellites, precision and the like) no longer fits and is left out. The original file still holds it.`
    return { hdop: null, extras: [], problems: [{ code: 'track-changed', text }] }
  }
  const extras = (detail?.extras ?? []).map(({ name, runs, text }) => ({ name, at: indicesOf(runs), text }))
  return { hdop, extras, problems: [] }
}
