import { type CoverPlan, type CoverTally, coverTiles, joinTallies } from '#core/cover'

/** Takes tiles from the counter that all threads share until none is left. `passes` and `next` stand on shared memory. */
export function coverSharedTiles(
  plan: CoverPlan,
  passes: Uint8Array,
  next: Int32Array,
  progress?: (done: number) => void,
): CoverTally {
  let tally: CoverTally = { areaCells: 0, coveredCells: 0, passSum: 0, passMax: 0 }
  for (let tile = Atomics.add(next, 0, 1); tile < plan.tiles; tile = Atomics.add(next, 0, 1)) {
    tally = joinTallies(tally, coverTiles(plan, tile, tile + 1, passes))
    progress?.((tile + 1) / plan.tiles)
  }
  return tally
}
