/**
 * How long a visit takes from raw fixes to chances: `npm run bench track`, `--fixes=100000` for another size, `--runs=1` for fewer. Seeded input; wall time, and time of
 * all threads together, for each of three runs after one to warm up. The last part repeats the whole with one setting changed.
 */
import { cpus } from 'node:os'
import { cleanTrack, defaultCleanSettings, sameWalk, withClockMoved } from '#core/track'
import { coverInThreads } from '#work'
import { quotedLanes, walkedLanes } from '../test/cover/walked-lanes.ts'

const option = (name: string): string | undefined =>
  process.argv.find((word) => word.startsWith(`--${name}=`))?.split('=')[1]
const fixes = Number(option('fixes') ?? 1_000_000)
const runs = Number(option('runs') ?? 3)

async function timed<Result>(label: string, run: () => Result | Promise<Result>): Promise<Result> {
  let result = await run()
  const walls: number[] = []
  const works: number[] = []
  for (let n = 0; n < runs; n++) {
    ;(globalThis as { gc?: () => void }).gc?.()
    const [start, before] = [performance.now(), process.cpuUsage()]
    result = await run()
    walls.push((performance.now() - start) / 1000)
    const { user, system } = process.cpuUsage(before)
    works.push((user + system) / 1e6)
  }
  const text = (seconds: number[]): string =>
    `${Math.min(...seconds).toFixed(2)} to ${Math.max(...seconds).toFixed(2)}`
  console.log(`${label.padEnd(58)} wall ${text(walls)} s   all threads ${text(works)} s`)
  return result
}

const { track, area } = walkedLanes({ ...quotedLanes, fixes })
console.log(
  `${fixes} fixes, W 1.2 m, cells of 0.2 m; Node ${process.version}, ${cpus().length} cores, ${cpus()[0]?.model}`,
)
const before = process.memoryUsage().rss / 1e6
const settings = { ...defaultCleanSettings }
await timed('cleaning and smoothing', () => cleanTrack(track, settings))
const twin = withClockMoved(track, 37)
await timed('the same walk twice recognised', () => sameWalk(track, twin))

const chance = { errorM: 2, coilM: 0.25, rateHz: 1 }
const limits = { widthM: 1.2, cellM: 0.2, maxJumpM: 10, maxJumpS: 60, minGapM2: 4 }
const asked = { tracks: [track], area, ...limits, chance }
const whole = await timed('passes, gaps and chances of the track as recorded', () => coverInThreads(asked))
const cleaned = await timed('cleaned first, then passes, gaps and chances', () =>
  coverInThreads({ ...asked, clean: settings }),
)
await timed('the same with gaps below a chance of 0.5', () =>
  coverInThreads({ ...asked, clean: settings, gapChance: 0.5 }),
)
for (const errorM of [0.5, 1, 5])
  await timed(`as recorded, error ${errorM} m`, () =>
    coverInThreads({ ...asked, chance: { ...chance, errorM } }),
  )
await timed('least gap changed, the rest kept', () =>
  coverInThreads({ ...asked, minGapM2: 9, kept: whole.kept }),
)
await timed('nothing changed, all kept', () => coverInThreads({ ...asked, kept: whole.kept }))
await timed('99 simulated walks', () =>
  coverInThreads({ ...asked, spread: { simulations: 99, seed: 1, memoryS: 120 }, kept: whole.kept }),
)
for (const { figures } of [whole, cleaned])
  console.log(
    `  ${(figures.areaM2 / 1e4).toFixed(2)} ha, covered ${(100 * figures.coveredShare).toFixed(2)} %, expected ${(100 * figures.expectedShare!).toFixed(2)} %, ` +
      `too fast ${(figures.tooFastM! / 1000).toFixed(0)} of ${(figures.distanceM / 1000).toFixed(0)} km`,
  )
console.log(
  `  peak of the whole process ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB (${before.toFixed(0)} MB with the input loaded)`,
)
