import { type PlanarTrack, type SweptLegs, sweptStep } from '#core/track'
import { sharedBytes } from './lattice.ts'
import { type ThinWalk, thinWalk } from './thin-walk.ts'
import { meanZigzagShare } from './zigzag.ts'

/** The legs that chances are worked from, and the error and the zigzag of each. */
export interface ChanceLegs {
  readonly walks: readonly ThinWalk[]
  /** For the fixes of all walks one after another: the class of error of the leg that begins there. */
  readonly errorClass: Uint8Array
  /** Standard deviation of each class, metres. */
  readonly classErrorM: readonly number[]
  /** Ratio D / a of each leg; null where none can be had. */
  readonly ratio: Float32Array | null
  /** What was assumed, one sentence each. */
  readonly notes: readonly string[]
}

interface Wanted {
  readonly errorM: number
  readonly coilM?: number | null
  readonly rateHz?: number | null
}

/** Neighbouring classes of error differ by this factor: half of it, 5 %, is the most that an error is rounded by. */
const classFactor = 1.1
/** Errors below 0.05 m count as that much, errors above 200 m too: so there are fewer than 90 classes. */
const leastStep = Math.round(Math.log(0.05) / Math.log(classFactor))
const mostErrorM = 200
/** Speeds are means over joined legs that last this long at most, seconds. */
const speedOverS = 15

/**
 * Legs of tracks ready for chances: those on a line joined within `thinShare` of their error, each with its class of error (from `errorOfFix`, metres a fix,
 * where given) and its zigzag. Cost: a few tenths of a second for a million fixes.
 */
export function chanceLegs(
  tracks: readonly PlanarTrack[],
  legs: readonly SweptLegs[],
  options: Wanted,
  thinShare: number,
  errorOfFix: readonly (Float64Array | null)[],
): ChanceLegs {
  const { coilM = null, rateHz = null, errorM } = options
  const { classes, classErrorM } = errorClasses(tracks, errorM, errorOfFix)
  const walks = tracks.map((track, t) =>
    thinWalk(track, legs[t]!, {
      classOf: classes[t]!,
      toleranceM: classErrorM.map((error) => error * thinShare),
      longestS: coilM === null ? Infinity : speedOverS,
    }),
  )
  const fixes = walks.reduce((sum, { kind }) => sum + kind.length, 0)
  const errorClass = new Uint8Array(sharedBytes(fixes))
  let at = 0
  for (let t = 0; t < walks.length; t++) {
    for (const i of walks[t]!.fix) errorClass[at++] = classes[t]?.[i] ?? 0
  }
  return { walks, errorClass, classErrorM, ...zigzagOfWalks(walks, fixes, coilM, rateHz) }
}

/** The class of error of each fix of each track that tells its errors; class 0 is `errorM`. */
function errorClasses(
  tracks: readonly PlanarTrack[],
  errorM: number,
  errorOfFix: readonly (Float64Array | null)[],
): { classes: (Uint8Array | null)[]; classErrorM: number[] } {
  const numbers = new Map<number, number>([[Number.NaN, 0]])
  const classErrorM = [errorM]
  const classOf = (error: number): number => {
    if (!(error >= 0) || error === errorM) return 0
    const step = Math.max(Math.round(Math.log(error) / Math.log(classFactor)), leastStep)
    const known = numbers.get(step)
    if (known !== undefined) return known
    numbers.set(step, classErrorM.length)
    return classErrorM.push(classFactor ** step) - 1
  }
  const classes = tracks.map((_, t) => {
    const errors = errorOfFix[t] ?? null
    return errors && Uint8Array.from(errors, (error) => classOf(Math.min(error, mostErrorM)))
  })
  return { classes, classErrorM }
}

/** The ratio D / a of every leg, with what it comes to in words. */
function zigzagOfWalks(
  walks: readonly ThinWalk[],
  fixes: number,
  coilM: number | null,
  rateHz: number | null,
): Pick<ChanceLegs, 'ratio' | 'notes'> {
  if (coilM === null || rateHz === null) return { ratio: null, notes: [] }
  const ratio = new Float32Array(sharedBytes(4 * fixes)).fill(2)
  let [at, legs, timed, lengthM, sensedM] = [0, 0, 0, 0, 0]
  for (const { track, kind, fix } of walks) {
    const { xy, time } = track
    for (let k = 0; k < kind.length; k++, at++) {
      if (kind[k] !== sweptStep) continue
      const steps = fix[k + 1]! - fix[k]!
      legs += steps
      const seconds = time === null ? Number.NaN : time[k + 1]! - time[k]!
      if (!(seconds > 0)) continue
      timed += steps
      const length = Math.hypot(xy[2 * k + 2]! - xy[2 * k]!, xy[2 * k + 3]! - xy[2 * k + 1]!)
      // D / a with a = v / f; standing still everything is sensed.
      ratio[at] = Math.min(2, (coilM * rateHz * seconds) / length)
      lengthM += length
      sensedM += length * meanZigzagShare(ratio[at]!)
    }
  }
  if (timed === 0)
    return { ratio: null, notes: ['The fixes carry no times, so the zigzag of the coil was not counted.'] }
  const share = lengthM > 0 ? (100 * sensedM) / lengthM : 100
  const notes = [
    `At the speeds walked, a coil of ${coilM} m at ${rateHz} sweeps a second senses ${share.toFixed(0)} % of the ground within its arc.`,
  ]
  if (timed < legs)
    notes.push(
      `${legs - timed} of ${legs} steps carry no times that can be used; there the whole arc was taken as sensed.`,
    )
  return { ratio, notes }
}
