import {
  type ChancePlan,
  type CoverPlan,
  type CoverTally,
  chanceTiles,
  coverTiles,
  joinTallies,
  type SpreadPlan,
  simulateShares,
} from '#core/cover'

/** Takes the numbers below `count` from the counter that all threads share, until none is left. */
function eachInTurn(next: Int32Array, count: number, work: (n: number) => void): void {
  for (let n = Atomics.add(next, 0, 1); n < count; n = Atomics.add(next, 0, 1)) work(n)
}

/** Takes tiles of passes in turn. `passes` and `next` stand on shared memory. */
export function coverSharedTiles(
  plan: CoverPlan,
  passes: Uint8Array,
  next: Int32Array,
  progress?: (done: number) => void,
): CoverTally {
  let tally: CoverTally = { areaCells: 0, coveredCells: 0, passSum: 0, passMax: 0 }
  eachInTurn(next, plan.tiles, (tile) => {
    tally = joinTallies(tally, coverTiles(plan, tile, tile + 1, passes))
    progress?.((tile + 1) / plan.tiles)
  })
  return tally
}

/** Takes tiles of chances in turn. `worked` and `next` stand on shared memory. */
export function chanceSharedTiles(
  prepared: ChancePlan,
  worked: Float32Array,
  next: Int32Array,
  progress?: (done: number) => void,
): void {
  const { tiles } = prepared.nodes.plan
  eachInTurn(next, tiles, (tile) => {
    chanceTiles(prepared, tile, tile + 1, worked)
    progress?.((tile + 1) / tiles)
  })
}

/** Takes simulated walks in turn. `shares` and `next` stand on shared memory. */
export function sharedSimulations(
  plan: SpreadPlan,
  shares: Float64Array,
  next: Int32Array,
  progress?: (done: number) => void,
): void {
  eachInTurn(next, shares.length, (n) => {
    shares[n] = simulateShares(plan, n, n + 1)[0]!
    progress?.((n + 1) / shares.length)
  })
}
