import { normal, type Random, uniform, unit } from '#core/random'
import type { Buried } from './buried.ts'
import { type Place, slopeHeight } from './scenario.ts'
import { placeAlong, type WalkPath } from './walk-path.ts'
import type { WalkPlan } from './walk-plan.ts'

/** Where the walker stood to dig: the thing, how far along the path, and how long. */
export interface Dig {
  readonly thing: Buried
  readonly alongM: number
  readonly seconds: number
}

/** A thing as it was recorded when dug: where the receiver put it, and when. */
export interface Dug {
  readonly thing: Buried
  readonly recorded: Place
  readonly time: number
}

/** What the receiver recorded: one fix a second. `segmentStart` holds the index of each segment's first fix. */
export interface Walked {
  readonly places: readonly Place[]
  readonly time: readonly number[]
  readonly height: readonly number[]
  readonly segmentStart: readonly number[]
  readonly dug: readonly Dug[]
}

/** Half the width of the arc swept, metres (common practice: 1.2 to 1.8 m in all). */
const reachM = 0.75
const stepM = 0.5

/**
 * The things found on a path, in the order met. Each time the arc comes over a thing it is heard with a chance that
 * falls with depth, from 0.82 at the top to 0.5 at 24 cm (ours, for the story). Cost: steps of the path times things.
 */
export function digsOn(path: WalkPath, things: readonly Buried[], random: Random): Dig[] {
  const over = new Set<Buried>()
  const found = new Map<Buried, Dig>()
  for (let alongM = 0; alongM < path.lengthM; alongM += stepM) {
    const at = placeAlong(path, alongM)
    for (const thing of things) {
      const near = Math.hypot(thing.place.u - at.u, thing.place.v - at.v) < reachM
      if (!near) over.delete(thing)
      else if (!over.has(thing)) {
        over.add(thing)
        const heard = unit(random) < 0.82 - 1.33 * thing.depthM
        if (heard && !found.has(thing)) found.set(thing, { thing, alongM, seconds: digTime(thing, random) })
      }
    }
  }
  return [...found.values()]
}

function digTime({ depthM }: Buried, random: Random): number {
  return Math.round(uniform(random, 35, 75) + 420 * depthM)
}

/** A value that wanders about 0 with a standard deviation and a correlation time in seconds: first-order autoregressive. */
function wander(deviation: number, seconds: number, random: Random): () => number {
  const keep = Math.exp(-1 / seconds)
  const fresh = deviation * Math.sqrt(1 - keep * keep)
  let value = deviation * normal(random)
  return () => {
    value = keep * value + fresh * normal(random)
    return value
  }
}

/** Walks a path second by second and records it as a receiver does, with an error that stays alike for minutes. */
export function walked(path: WalkPath, digs: readonly Dig[], plan: WalkPlan, random: Random): Walked {
  const errorU = wander(1.1, 300, random)
  const errorV = wander(1.1, 300, random)
  const errorHeight = wander(2.4, 400, random)
  const pace = wander(0.04, 60, random)
  const stops = stopsOf(path, digs, plan)
  const places: Place[] = []
  const time: number[] = []
  const height: number[] = []
  const segmentStart = [0]
  const dug: Dug[] = []
  let now = plan.start
  const record = (at: Place): void => {
    const [du, dv] = [errorU(), errorV()]
    places.push({ u: at.u + du, v: at.v + dv })
    time.push(now)
    height.push(slopeHeight(at) + errorHeight())
    now += 1
  }
  let alongM = 0
  while (alongM < path.lengthM) {
    record(placeAlong(path, alongM))
    const stride = Math.min(0.6, Math.max(0.42, 0.54 + pace()))
    const stop = stops[0]
    if (!stop || alongM + stride < stop.alongM) {
      alongM += stride
      continue
    }
    stops.shift()
    alongM = stop.alongM + stop.skipM
    if (stop.recording) {
      const at = placeAlong(path, stop.alongM)
      for (let i = 0; i < stop.seconds; i++) record(at)
    } else {
      now += stop.seconds
      segmentStart.push(places.length)
    }
    if (stop.thing) dug.push(dugAt(stop.thing, places.at(-1)!, placeAlong(path, stop.alongM), now, random))
  }
  return { places, time, height, segmentStart, dug }
}

/** The thing lies where it lies; the receiver puts it off by its error of the moment. */
function dugAt(thing: Buried, fix: Place, stood: Place, time: number, random: Random): Dug {
  const recorded = {
    u: thing.place.u + fix.u - stood.u + 0.1 * normal(random),
    v: thing.place.v + fix.v - stood.v + 0.1 * normal(random),
  }
  return { thing, recorded, time }
}

interface Stop {
  readonly alongM: number
  readonly seconds: number
  readonly recording: boolean
  /** Path gone over unrecorded. */
  readonly skipM: number
  readonly thing: Buried | null
}

/** Every stop of a walk in order: digs, tea, the interruption. A dig on ground gone over unrecorded is left out. */
function stopsOf(path: WalkPath, digs: readonly Dig[], { tea, interruption }: WalkPlan): Stop[] {
  const stops: Stop[] = digs.map(({ thing, alongM, seconds }) => {
    return { alongM, seconds, recording: true, skipM: 0, thing }
  })
  const still = { skipM: 0, thing: null }
  if (tea) stops.push({ ...still, alongM: tea.atShare * path.lengthM, seconds: tea.seconds, recording: true })
  if (!interruption) return stops.sort((a, b) => a.alongM - b.alongM)
  const from = interruption.atShare * path.lengthM
  const to = from + interruption.lengthM
  const seconds = interruption.extraS + Math.round(interruption.lengthM / 0.9)
  const kept = stops.filter((stop) => stop.alongM < from || stop.alongM > to)
  kept.push({ alongM: from, seconds, recording: false, skipM: interruption.lengthM, thing: null })
  return kept.sort((a, b) => a.alongM - b.alongM)
}
