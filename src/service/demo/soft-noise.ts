import { normal, type Random } from '#core/random'
import type { Place } from './scenario.ts'

/** Unevenness of the ground or the crop: a number about 0 of standard deviation 1 at every place. */
export type Noise = (place: Place) => number

/** Half the ground that noise is made for, metres from the middle of the field. */
const reachM = 190

/**
 * Noise that is alike over `alongU` by `alongV` metres: normal numbers on the nodes of a lattice, blended smoothly between them. The blend
 * makes the spread uneven between nodes and smaller on the whole; it is scaled up to 1 on average. Cost: 16 bytes a node.
 */
export function softNoise(random: Random, alongU: number, alongV: number): Noise {
  const across = Math.ceil((2 * reachM) / alongU) + 2
  const up = Math.ceil((2 * reachM) / alongV) + 2
  const nodes = Float64Array.from({ length: across * up }, () => normal(random))
  return ({ u, v }) => {
    const x = (u + reachM) / alongU
    const y = (v + reachM) / alongV
    const column = Math.max(0, Math.min(across - 2, Math.floor(x)))
    const row = Math.max(0, Math.min(up - 2, Math.floor(y)))
    const wx = eased(x - column)
    const wy = eased(y - row)
    const at = row * across + column
    const below = nodes[at]! + wx * (nodes[at + 1]! - nodes[at]!)
    const above = nodes[at + across]! + wx * (nodes[at + across + 1]! - nodes[at + across]!)
    return (below + wy * (above - below)) / meanSpread
  }
}

/** From 0 to 1 with level ends. */
export function eased(share: number): number {
  const s = Math.max(0, Math.min(1, share))
  return s * s * (3 - 2 * s)
}

/** Root of the mean variance of the blend: over one axis the mean of (1 - w)^2 + w^2 with w eased is 26/35, and that twice. */
const meanSpread = 26 / 35
