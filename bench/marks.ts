/**
 * How well and how fast rings are found on scenes that the training never saw: `npm run bench marks`, or `node bench/marks.ts KIND SEED…`. One JSON line a scene;
 * the peers of bench/peers/circles.py print the same figures of the same scenes (bench/marks-scenes.ts writes them). `cpu` is processor time over
 * all threads, which a busy machine lengthens less than `seconds`. With `--threads` the scene is read from a file of blocks by as many threads as there are processors.
 */
import { cpus } from 'node:os'
import { findRings, type Raster, type RingCandidate } from '#core/marks'
import { ringsInThreads } from '#work'
import { judge } from './scenes/judge.ts'
import { onBlocks } from './scenes/on-blocks.ts'
import { makeScene, type SceneKind, sceneDiameters, sceneKinds } from './scenes/scene.ts'

const [kindAsked, ...seedsAsked] = process.argv.slice(2).filter((word) => !word.startsWith('--'))
const kinds = sceneKinds.filter((kind) => kindAsked === undefined || kind === kindAsked)
const seedsOf = (kind: SceneKind): number[] =>
  seedsAsked.length > 0
    ? seedsAsked.map(Number)
    : kind === 'plain'
      ? [2001, 2002, 2003, 2004, 2005, 2006, 2007, 2008]
      : [2001, 2002, 2003]
const settings = {
  minDiameterPx: sceneDiameters.min,
  maxDiameterPx: sceneDiameters.max,
  tone: 'dark',
  most: 400,
} as const
const inThreads = process.argv.includes('--threads')

type Told = Readonly<Record<'ap' | 'f1' | 'oneFalse' | 'whole' | 'broken' | 'seconds' | 'cpu', number>>

/** Writing the scene to a file of blocks is not timed. */
function inBlocks(raster: Raster): { run: () => Promise<readonly RingCandidate[]>; end: () => void } {
  const { columns, rows } = raster
  const { blocks, end } = onBlocks(raster)
  return { run: async () => (await ringsInThreads({ blocks, columns, rows, settings })).candidates, end }
}

const round = (value: number): number => Number(value.toFixed(4))

console.log(JSON.stringify({ node: process.version, processor: cpus()[0]?.model, processors: cpus().length }))
for (const kind of kinds) {
  const results: Told[] = []
  for (const seed of seedsOf(kind)) {
    const { raster, rings } = makeScene(kind, seed)
    const search = inThreads
      ? inBlocks(raster)
      : { run: async () => findRings(raster, settings), end: () => {} }
    const before = process.cpuUsage()
    const started = performance.now()
    const found = await search.run()
    const seconds = (performance.now() - started) / 1000
    const { user, system } = process.cpuUsage(before)
    search.end()
    const { averagePrecision, bestF1, recallAtOneFalse, recallWhole, recallBroken } = judge(found, rings)
    const told = {
      ap: round(averagePrecision),
      f1: round(bestF1),
      oneFalse: round(recallAtOneFalse),
      whole: round(recallWhole),
      broken: round(recallBroken),
      seconds: round(seconds),
      cpu: round((user + system) / 1e6),
    }
    console.log(JSON.stringify({ method: 'rings', scene: `${kind}-${seed}`, ...told }))
    results.push(told)
  }
  const mean = (of: (each: (typeof results)[number]) => number): number =>
    results.reduce((sum, each) => sum + of(each), 0) / results.length
  const ap = mean((each) => each.ap)
  const spread = Math.sqrt(
    results.reduce((sum, each) => sum + (each.ap - ap) ** 2, 0) / Math.max(1, results.length - 1),
  )
  console.log(
    `${kind}: mean average precision ${ap.toFixed(3)}, standard deviation ${spread.toFixed(3)} over ${results.length} scenes; recall whole ` +
      `${mean((each) => each.whole).toFixed(3)}, broken ${mean((each) => each.broken).toFixed(3)}; ${mean((each) => each.cpu).toFixed(2)} s of processor a scene`,
  )
}
