import type { RecordedFindspot, RecordedTrack } from '#core/record'
import type { Mark, WalkFix } from './walk.ts'
import type { WalkContent } from './walk-store.ts'

const wgs84 = 4326

/** The walk as a track: a segment for each time recording went on anew, accuracy kept fix by fix as the device gave it. */
export function trackOfWalk({ walk, fixes }: WalkContent): RecordedTrack {
  const xy = new Float64Array(2 * fixes.length)
  fixes.forEach(({ lon, lat }, i) => {
    xy.set([lon, lat], 2 * i)
  })
  const starts = fixes.flatMap((fix, i) => (i === 0 || fix.segment !== fixes[i - 1]!.segment ? [i] : []))
  const elevation = Float64Array.from(fixes, (fix) => fix.altitude ?? Number.NaN)
  return {
    epsg: wgs84,
    name: `Walk of ${minuteOf(walk.startedAt)}`,
    walked: true,
    xy,
    segmentStart: Uint32Array.from(starts),
    time: Float64Array.from(fixes, (fix) => fix.time / 1000),
    elevation: elevation.every(Number.isNaN) ? null : elevation,
    hdop: null,
    extras: fixes.length > 0 ? [accuracyOf(fixes)] : [],
    attributes: {},
  }
}

function accuracyOf(fixes: readonly WalkFix[]): RecordedTrack['extras'][number] {
  return {
    name: 'accuracy_m',
    at: fixes.map((_, i) => i),
    text: fixes.map((fix) => tenth(fix.accuracyM)),
  }
}

/** A mark as a findspot, at the fix that held when the button was pressed. */
export function findspotOfMark({ n, time, fix, text }: Mark): RecordedFindspot {
  const ageS = Math.max(0, (time - fix.time) / 1000)
  const attributes = ageS > 5 ? { position_age_s: String(Math.round(ageS)) } : {}
  return {
    epsg: wgs84,
    name: `Mark ${n}`,
    x: fix.lon,
    y: fix.lat,
    accuracyM: fix.accuracyM,
    elevation: fix.altitude,
    time: time / 1000,
    note: text.trim() || null,
    find: null,
    attributes,
  }
}

/** `2026-09-12 08:10`, in UTC. */
function minuteOf(time: number): string {
  return new Date(time).toISOString().slice(0, 16).replace('T', ' ')
}

function tenth(metres: number): string {
  return String(Math.round(metres * 10) / 10)
}
