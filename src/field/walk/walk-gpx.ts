import { writeGpx } from '#formats/gpx'
import { findspotOfMark, trackOfWalk } from './walk-records.ts'
import type { WalkContent } from './walk-store.ts'

/** The walk as a GPX file for the desk, named for its start in UTC: `walk-2026-09-12-0810.gpx`. */
export function gpxFile(content: WalkContent): { name: string; text: string } {
  const start = new Date(content.walk.startedAt).toISOString()
  const text = writeGpx({
    areas: [],
    tracks: content.fixes.length > 0 ? [trackOfWalk(content)] : [],
    findspots: content.marks.map(findspotOfMark),
  })
  return { name: `walk-${start.slice(0, 10)}-${start.slice(11, 16).replace(':', '')}.gpx`, text }
}
