import * as z from 'zod'
import type { PlannedLane } from '#contract'
import type { PlanarGrid } from '#core/geodesy'
import type { LaneFacts } from '#store'
import { cornersOf, onEarth } from '../lane-lines.ts'
import type { LanesOf } from '../lanes.ts'
import { projected } from '../projecting.ts'

const toCentimetre = (metres: number): number => Math.round(metres * 100) / 100
const told = (xy: ArrayLike<number>): number[] => Array.from(xy, toCentimetre)

/** Lanes in the order of the walk, with their walkers, in the grid they were planned in. */
export function plannedLanes({ plan, shares }: LanesOf): PlannedLane[] {
  return shares.flatMap(({ from, to }, walker) =>
    Array.from({ length: to - from }, (_, i) => ({
      walker: walker + 1,
      number: i + 1,
      lengthM: plan.laneM[from + i]!,
      xy: told(cornersOf(plan, from + i)),
    })),
  )
}

/** The walks between lanes that follow on one another, from the end of one to the start of the next. */
export function plannedWays({ plan, shares }: LanesOf): number[][] {
  const { xy, start, wayXy, wayStart } = plan
  return shares.flatMap(({ from, to }) =>
    Array.from({ length: Math.max(0, to - from - 1) }, (_, i) => {
      const lane = from + i
      const [end, next] = [2 * (start[lane + 1]! - 1), 2 * start[lane + 1]!]
      const between = wayXy.subarray(2 * wayStart[lane]!, 2 * wayStart[lane + 1]!)
      return told([xy[end]!, xy[end + 1]!, ...between, xy[next]!, xy[next + 1]!])
    }),
  )
}

/** The same lanes in WGS84, to be kept. */
export function laneFacts(lanes: readonly PlannedLane[], grid: PlanarGrid): LaneFacts[] {
  return lanes.map(({ walker, number, lengthM, xy }) => ({
    walker,
    number,
    lengthM,
    xy: onEarth(xy, grid),
  }))
}

/** Kept lanes in a grid; those that it does not wholly reach are left out. */
export function keptLanes(lanes: readonly LaneFacts[], grid: PlanarGrid): PlannedLane[] {
  return lanes.flatMap(({ walker, number, lengthM, xy }) => {
    const planar = projected(xy, grid.forward)
    return planar.some(Number.isNaN) ? [] : [{ walker, number, lengthM, xy: told(planar) }]
  })
}

/** Decimals of a degree to which ways are kept: a centimetre. */
const wayDecimals = 1e7

/** The walks between lanes as longitudes and latitudes, to be kept beside a plan's figures. */
export function waysToKeep(ways: readonly (readonly number[])[], grid: PlanarGrid): number[][] {
  return ways.map((xy) =>
    Array.from(
      projected(Float64Array.from(xy), grid.inverse),
      (value) => Math.round(value * wayDecimals) / wayDecimals,
    ),
  )
}

const keptWaysShape = z.object({ ways: z.array(z.array(z.number()).min(4)) })

/** Ways that were kept beside a plan's figures, each from the end of a lane to the start of the walker's next; none for plans of before, or changed by another program. */
export function keptWays(figures: unknown): readonly (readonly number[])[] {
  return keptWaysShape.safeParse(figures).data?.ways ?? []
}
