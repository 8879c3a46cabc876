import type { Flattened } from './flatten.ts'
import { levelOff, ridges } from './ridges.ts'
import { type RingGround, ridgeCeiling } from './ring-ground.ts'
import { kernelMargin } from './ring-kernels.ts'
import { eachMapPair, ringSpectra } from './ring-maps.ts'

/** A place and radius worth a closer look, pixels of its level's window. */
export interface Proposal {
  readonly x: number
  readonly y: number
  readonly radius: number
  /** Of the map there, in spreads of the ground. */
  readonly height: number
}

/** Least height of a proposal, in spreads of the ground. */
const leastHeight = 3.7

/**
 * Places where a ring may be: peaks, over a neighbourhood of five pixels, of the best map over radii. A map is the sum of two ways of seeing a ring: the
 * ridges on its circle that run along it, and the ring matched to the grain of the ground.
 * Cost: a transform of the padded image for two radii.
 */
export function ringProposals(flat: Flattened, ground: RingGround): Proposal[] {
  const { columns, rows, values } = flat
  const { kernels, middles } = ground
  const lines = ridges(values, flat)
  levelOff(lines, ground.ridgeUnit, ridgeCeiling)
  const best = new Float32Array(columns * rows).fill(Number.NEGATIVE_INFINITY)
  const which = new Uint8Array(columns * rows)
  const take = (map: Float32Array, stride: number, index: number): void => {
    const middle = middles[index]!
    for (let row = 0; row < rows; row++) {
      for (let i = row * columns, j = row * stride, end = i + columns; i < end; i++, j++) {
        const height = map[j]! - middle
        if (height <= best[i]!) continue
        best[i] = height
        which[i] = index
      }
    }
  }
  const pairs = Array.from(
    { length: Math.ceil(kernels.length / 2) },
    (_, i) => [kernels[2 * i]!, kernels[2 * i + 1] ?? kernels[2 * i]!] as const,
  )
  const reach = Math.ceil(Math.max(...kernels.map(({ radius }) => radius))) + kernelMargin
  const wanted = { from: 0, to: rows, every: 1 }
  eachMapPair(ringSpectra(values, lines, flat, reach), pairs, wanted, (pair, first, second, stride) => {
    take(first, stride, 2 * pair)
    if (2 * pair + 1 < kernels.length) take(second, stride, 2 * pair + 1)
  })
  const found: Proposal[] = []
  peaks(best, columns, rows, leastHeight, (i) => {
    const radius = kernels[which[i]!]!.radius
    found.push({ x: (i % columns) + 0.5, y: Math.floor(i / columns) + 0.5, radius, height: best[i]! })
  })
  return found
}

function peaks(
  score: Float32Array,
  columns: number,
  rows: number,
  least: number,
  visit: (i: number) => void,
): void {
  for (let row = 2; row < rows - 2; row++) {
    for (let i = row * columns + 2, end = row * columns + columns - 2; i < end; i++) {
      const value = score[i]!
      if (value < least) continue
      let top = true
      for (let dy = -2; dy <= 2 && top; dy++) {
        for (let j = i + dy * columns - 2, last = j + 4; j <= last; j++) {
          // Of equals the first is taken.
          if (score[j]! > value || (score[j]! === value && j < i)) {
            top = false
            break
          }
        }
      }
      if (top) visit(i)
    }
  }
}
