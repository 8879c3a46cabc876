import { type Random, uniform, unit, wholeBelow } from '#core/random'
import type { Setting } from './buried.ts'
import { droveway, type Place } from './scenario.ts'
import type { Dug } from './walked.ts'

/** A find as its finder wrote it down. */
export interface DemoFind {
  readonly number: string
  readonly object: string
  readonly material: string
  readonly period: string
  readonly depthM: number
  readonly weightG: number
  /** Seconds since 1970-01-01 UTC. */
  readonly time: number
  readonly note: string
  readonly place: Place
}

interface ObjectKind {
  readonly object: string
  readonly material: string
  readonly period: string
  readonly weightG: readonly [number, number]
  /** How often it turns up in each setting, one against the other. */
  readonly share: Readonly<Record<Setting, number>>
  readonly notes: readonly string[]
}

const kinds: readonly ObjectKind[] = [
  {
    object: 'buckle',
    material: 'copper alloy',
    period: 'medieval',
    weightG: [3, 14],
    share: { mound: 3, droveway: 4, field: 2 },
    notes: ['', 'pin missing', 'half of a frame', 'bent'],
  },
  {
    object: 'buckle',
    material: 'copper alloy',
    period: 'post-medieval',
    weightG: [5, 19],
    share: { mound: 1, droveway: 3, field: 3 },
    notes: ['', 'shoe buckle?', 'frame only'],
  },
  {
    object: 'lead weight',
    material: 'lead',
    period: 'post-medieval',
    weightG: [14, 118],
    share: { mound: 5, droveway: 2, field: 1 },
    notes: ['', 'pierced', 'disc, worn smooth', 'notched on one edge'],
  },
  {
    object: 'lead token',
    material: 'lead',
    period: 'post-medieval',
    weightG: [1.6, 6],
    share: { mound: 6, droveway: 2, field: 0.5 },
    notes: ['', 'cross with pellets', 'one side blank', 'petals'],
  },
  {
    object: 'cut halfpenny',
    material: 'silver',
    period: 'medieval',
    weightG: [0.52, 0.72],
    share: { mound: 3, droveway: 1.5, field: 0.2 },
    notes: ['cut along the cross', 'worn', ''],
  },
  {
    object: 'thimble',
    material: 'copper alloy',
    period: 'post-medieval',
    weightG: [1.9, 7],
    share: { mound: 3, droveway: 1, field: 0.5 },
    notes: ['', 'crushed', 'pits by hand'],
  },
  {
    object: 'musket ball',
    material: 'lead',
    period: 'post-medieval',
    weightG: [11, 33],
    share: { mound: 0.5, droveway: 2, field: 5 },
    notes: ['', 'flattened', 'casting seam seen'],
  },
]

/** The one harness mount of the story: it goes to the findspot nearest the droveway's middle line. */
const harnessMount: ObjectKind = {
  object: 'harness mount',
  material: 'copper alloy',
  period: 'medieval',
  weightG: [12, 17],
  share: { mound: 0, droveway: 0, field: 0 },
  notes: ['traces of gilding, not cleaned'],
}

/** Gives each thing dug, in the order of time, a number, a name and a weight. Numbers are CODE-YEAR-NNN. */
export function demoFinds(dug: readonly Dug[], codeYear: string, random: Random): DemoFind[] {
  const mountAt = dug.reduce(
    (best, each, i) => (awayFromDroveway(each.recorded) < awayFromDroveway(dug[best]!.recorded) ? i : best),
    0,
  )
  return dug.map(({ thing, recorded, time }, i) => {
    const kind = i === mountAt ? harnessMount : drawnKind(thing.setting, random)
    const weightG = uniform(random, ...kind.weightG)
    return {
      number: `${codeYear}-${String(i + 1).padStart(3, '0')}`,
      object: kind.object,
      material: kind.material,
      period: kind.period,
      depthM: Math.round(thing.depthM * 100) / 100,
      weightG: Number(weightG.toFixed(weightG < 10 ? 2 : 1)),
      time,
      note: kind.notes[wholeBelow(random, kind.notes.length)]!,
      place: recorded,
    }
  })
}

function drawnKind(setting: Setting, random: Random): ObjectKind {
  const total = kinds.reduce((sum, kind) => sum + kind.share[setting], 0)
  let left = unit(random) * total
  for (const kind of kinds) {
    left -= kind.share[setting]
    if (left < 0) return kind
  }
  return kinds.at(-1)!
}

/** Distance of a place from the droveway's middle line, metres. */
function awayFromDroveway({ u, v }: Place): number {
  return droveway.line.slice(1).reduce((nearest, b, i) => {
    const a = droveway.line[i]!
    const [du, dv] = [b.u - a.u, b.v - a.v]
    const share = Math.min(1, Math.max(0, ((u - a.u) * du + (v - a.v) * dv) / (du * du + dv * dv)))
    return Math.min(nearest, Math.hypot(u - a.u - share * du, v - a.v - share * dv))
  }, Infinity)
}
