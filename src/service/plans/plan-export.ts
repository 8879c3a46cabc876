import { SurveyError } from '#core/faults'
import { handheldNames, type NameLimits } from '#core/lanes'
import type { RecordedFindspot, RecordedTrack } from '#core/record'
import type { LaneFacts, StoredPlan, SurveyFile } from '#store'
import { laneNames, walkNames } from '../lane-lines.ts'
import { targetPoints } from '../marks/mark-export.ts'
import { keptWays } from './planned-lanes.ts'

const planned = { epsg: 4326, walked: false, time: null, elevation: null, hdop: null, extras: [] } as const

/** A plan's lanes, each a line; and each walker's whole walk, the ways between lanes included; a segment a lane where a plan holds no ways. */
export interface LaneTracks {
  readonly lanes: readonly RecordedTrack[]
  readonly walks: readonly RecordedTrack[]
}

/** Names to go on a handheld; the fault of too many for so few characters is told as a person's. */
function named(make: () => string[], limits: NameLimits): string[] {
  try {
    return make()
  } catch (cause) {
    if (!(cause instanceof RangeError)) throw cause
    const sentence = `Names of ${limits.length} characters cannot tell so many lanes or targets apart; allow more.`
    throw new SurveyError('setting-out-of-range', sentence, { cause })
  }
}

export function laneTracks(survey: SurveyFile, { id, figures }: StoredPlan, limits: NameLimits): LaneTracks {
  const lanes = survey.land.lanes(id)
  const walkers = lanes.reduce((most, { walker }) => Math.max(most, walker), 1)
  const places = lanes.map(({ walker, number }) => ({ walker: walker - 1, number }))
  const names = named(() => laneNames(places, walkers, limits), limits)
  const walked = [...new Set(lanes.map(({ walker }) => walker))]
  const walks = walkNames(
    walked.map((walker) => walker - 1),
    walkers,
    limits,
  )
  const ways = [...keptWays(figures)]
  // One from each lane but a walker's last.
  const whole = ways.length > 0 && ways.length === lanes.length - walked.length
  return {
    lanes: lanes.map(({ walker, number, lengthM, xy }, i) => ({
      ...planned,
      name: names[i]!,
      xy,
      segmentStart: Uint32Array.of(0),
      attributes: {
        lane: String(number),
        ...(walkers > 1 ? { walker: String(walker) } : {}),
        length_m: lengthM.toFixed(1),
      },
    })),
    walks: walked.map((walker, i) =>
      walkOf(
        walks[i]!,
        lanes.filter((lane) => lane.walker === walker),
        whole ? ways.splice(0, lanes.filter((lane) => lane.walker === walker).length - 1) : null,
      ),
    ),
  }
}

function walkOf(
  name: string,
  lanes: readonly LaneFacts[],
  ways: readonly (readonly number[])[] | null,
): RecordedTrack {
  const segmentStart: number[] = []
  const xy: number[] = []
  lanes.forEach((lane, i) => {
    if (i === 0 || ways === null) segmentStart.push(xy.length / 2)
    for (const value of lane.xy) xy.push(value)
    // Its ends are those of the lanes.
    for (const value of ways?.[i]?.slice(2, -2) ?? []) xy.push(value)
  })
  return {
    ...planned,
    name,
    xy: Float64Array.from(xy),
    segmentStart: Uint32Array.from(segmentStart),
    attributes: {},
  }
}

/** Targets under names that a handheld can hold. */
export function planTargets(survey: SurveyFile, limits: NameLimits): RecordedFindspot[] {
  const points = targetPoints(survey)
  const all = points.map(({ name }, i) => name ?? `Target ${i + 1}`)
  const names = named(() => handheldNames(all, limits), limits)
  return points.map((point, i) => ({ ...point, name: names[i]! }))
}

/** The plan asked for, else the one kept last. Faults: SurveyError 'nothing-to-export', 'not-found'. */
export function planToExport(survey: SurveyFile, id: number | undefined): StoredPlan {
  if (id !== undefined) return survey.land.plan(id)
  const last = survey.land.plans().at(-1)
  if (last) return last
  throw new SurveyError('nothing-to-export', 'The survey has no plan yet: keep one in Plan first.')
}
