/**
 * How long lanes take: `npm run bench lanes`. Seeded input; minimum and mean ± standard deviation of five runs after one to warm up.
 * What is to be reached: 1,000 ha at 1 m, some 10,000 km of lanes, planned and ordered in under 2 s.
 */
import { cpus } from 'node:os'
import { clashesOf, noShape } from '#core/constraint'
import type { PlanarArea, Polygon } from '#core/geometry'
import { type LanePlan, type LaneWishes, lanePlan, shareLanes, spiralPlan } from '#core/lanes'
import { seededRandom, uniform } from '#core/random'
import { starRing } from '../test/lanes/drawn-areas.ts'
import { ExactLines } from '../test/lanes/exact-lines.ts'

const runs = 5

function timed(label: string, run: () => unknown): number {
  run()
  const seconds = Array.from({ length: runs }, () => {
    ;(globalThis as { gc?: () => void }).gc?.()
    const start = performance.now()
    run()
    return (performance.now() - start) / 1000
  })
  const mean = seconds.reduce((sum, each) => sum + each, 0) / runs
  const spread = Math.sqrt(seconds.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (runs - 1))
  const least = Math.min(...seconds)
  console.log(
    `${label.padEnd(58)} min ${least.toFixed(3)} s   mean ${mean.toFixed(3)} ± ${spread.toFixed(3)} s`,
  )
  return least
}

const random = seededRandom(1000)
/** Radius of a circle of 1,000 ha. */
const radius = Math.sqrt(1e7 / Math.PI)
const around = (corners: number, rough: number): Float64Array =>
  starRing(
    560_000,
    340_000,
    Array.from({ length: corners }, () => radius * (1 + rough * uniform(random, -0.5, 0.5))),
  )
const area = (...polygons: Polygon[]): PlanarArea => ({ epsg: 27_700, polygons })
const holes = Array.from({ length: 144 }, (_, i) =>
  starRing(560_000 - 990 + 180 * (i % 12), 340_000 - 990 + 180 * Math.floor(i / 12), [9, 14, 11, 16, 12]),
)
const fields = Array.from({ length: 256 }, (_, i): Polygon => {
  const [x, y] = [560_000 + 200 * (i % 16), 340_000 + 200 * Math.floor(i / 16)]
  return { rings: [Float64Array.of(x, y, x + 195, y + 3, x + 197, y + 198, x + 2, y + 196, x, y)] }
})
const wishes: LaneWishes = { spacingM: 1, bearing: 33, edges: true, from: null }

const cases: [string, PlanarArea, Partial<LaneWishes>][] = [
  ['1,000 ha, outline of 64 corners', area({ rings: [around(64, 0)] }), {}],
  ['the same, rough outline of 1,000 corners', area({ rings: [around(1000, 0.1)] }), {}],
  ['the same, fewest turns', area({ rings: [around(1000, 0.1)] }), { bearing: null }],
  ['the same, 144 holes', area({ rings: [around(64, 0), ...holes] }), {}],
  ['256 fields apart', area(...fields), {}],
  ['256 fields apart, fewest turns', area(...fields), { bearing: null }],
  ['1,000 ha, outline of 100,000 corners', area({ rings: [around(100_000, 0)] }), {}],
  ['the same, rough by a metre', area({ rings: [around(100_000, 0.0005)] }), {}],
]

console.log(`lanes 1 m apart; Node ${process.version}, ${cpus()[0]?.model}`)
let slowest = 0
for (const [label, ground, more] of cases) {
  let plan: LanePlan | null = null
  slowest = Math.max(
    slowest,
    timed(label, () => {
      plan = lanePlan(ground, { ...wishes, ...more })
      shareLanes(plan, 2)
    }),
  )
  const { laneM, lengthM, wayM } = plan as unknown as LanePlan
  const between = wayM.reduce((sum, m) => sum + m, 0)
  console.log(
    `  ${laneM.length} lanes, ${(lengthM / 1000).toFixed(0)} km, ${(between / 1000).toFixed(1)} km between them`,
  )
}
console.log(`slowest ${slowest.toFixed(2)} s; to be reached: 2 s`)

const circle = area({ rings: [around(64, 0)] })
timed('a spiral over 1,000 ha', () =>
  spiralPlan(circle, { spacingM: 1, centre: [560_000, 340_000], radiusM: null }),
)

const constraints = Array.from({ length: 10_000 }, () => ({
  ...noShape,
  polygons: [
    {
      rings: [
        starRing(uniform(random, 550_000, 570_000), uniform(random, 330_000, 350_000), [10, 25, 15, 30, 20]),
      ],
    },
  ],
}))
const plan = lanePlan(circle, wishes)
const lanes = Array.from(plan.laneM, (_, i) => ({
  ...noShape,
  lines: [plan.xy.subarray(2 * plan.start[i]!, 2 * plan.start[i + 1]!)],
}))
let clashes = 0
timed(`${lanes.length} lanes against 10,000 constraints, 20 m`, () => {
  clashes = clashesOf(lanes, constraints, 20).length
})
console.log(`  ${clashes} clashes`)

const exact = await ExactLines.load()
const rough = area({ rings: [around(1000, 0.1)] })
const own = timed('middle lines only, rough outline of 1,000 corners', () =>
  lanePlan(rough, { ...wishes, bearing: 0, edges: false }),
)
const across = Array.from({ length: 2 * Math.ceil(1.05 * radius) }, (_, k) => 560_000 - 1.05 * radius + k)
const geos = timed('GEOS 3.13.0 in geos-wasm: as many lines cut, not ordered', () =>
  exact.lengths(
    {
      xy: Float64Array.from(across.flatMap((x) => [x, 330_000, x, 350_000])),
      start: Uint32Array.from({ length: across.length + 1 }, (_, i) => 2 * i),
    },
    rough,
  ),
)
console.log(`  GEOS takes ${(geos / own).toFixed(1)} times as long`)
