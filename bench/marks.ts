/**
 * How well and how fast rings are found on scenes that the training never saw: `npm run bench marks`, or `node bench/marks.ts KIND SEED…`. One JSON line a scene;
 * the peers of bench/peers/circles.py print the same figures of the same scenes (bench/marks-scenes.ts writes them). `cpu` is processor time over
 * all threads, which a busy machine lengthens less than `seconds`.
 */
import { cpus } from 'node:os'
import { findRings } from '#core/marks'
import { judge } from './scenes/judge.ts'
import { makeScene, type SceneKind, sceneDiameters, sceneKinds } from './scenes/scene.ts'

const [kindAsked, ...seedsAsked] = process.argv.slice(2).filter((word) => !word.startsWith('--'))
const kinds = sceneKinds.filter((kind) => kindAsked === undefined || kind === kindAsked)
const seedsOf = (kind: SceneKind): number[] =>
  seedsAsked.length > 0
    ? seedsAsked.map(Number)
    : kind === 'plain'
      ? [1001, 1002, 1003, 1004, 1005, 1006, 1007, 1008]
      : [1001, 1002, 1003]
const settings = {
  minDiameterPx: sceneDiameters.min,
  maxDiameterPx: sceneDiameters.max,
  tone: 'dark',
  most: 400,
} as const
const round = (value: number): number => Number(value.toFixed(4))

console.log(JSON.stringify({ node: process.version, processor: cpus()[0]?.model, processors: cpus().length }))
for (const kind of kinds) {
  const results = seedsOf(kind).map((seed) => {
    const { raster, rings } = makeScene(kind, seed)
    const before = process.cpuUsage()
    const started = performance.now()
    const found = findRings(raster, settings)
    const seconds = (performance.now() - started) / 1000
    const { user, system } = process.cpuUsage(before)
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
    return told
  })
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
