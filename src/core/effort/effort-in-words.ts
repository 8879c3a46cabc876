import { fastestSpeed, type Sweep } from './lane-chances.ts'

const metresASecond = (value: number): string => `${value.toFixed(2)} m/s`
/** A limit is never said to be higher than it is. */
const atMost = (value: number): string => metresASecond(Math.floor(value * 100 + 1e-9) / 100)

/**
 * What a walking speed does to the overlap of sweeps, and the fastest at which they still overlap, in one or two sentences.
 * @example sweepInWords({ coilM: 0.25, rateHz: 1, speedMs: 0.5 })
 * // 'At 0.50 m/s sweeps leave ground out even in the middle of the arc. They overlap in the middle up to 0.25 m/s, to the very edge up to 0.12 m/s.'
 */
export function sweepInWords({ coilM, rateHz, speedMs }: Sweep): string {
  const { middleMs, edgeMs } = fastestSpeed(coilM, rateHz)
  const limits = `They overlap in the middle up to ${atMost(middleMs)}, to the very edge up to ${atMost(edgeMs)}.`
  if (speedMs <= edgeMs) return `At ${metresASecond(speedMs)} sweeps overlap over the whole arc.`
  if (speedMs <= middleMs)
    return `At ${metresASecond(speedMs)} sweeps overlap in the middle of the arc and leave ground out towards its edges. ${limits}`
  return `At ${metresASecond(speedMs)} sweeps leave ground out even in the middle of the arc. ${limits}`
}
