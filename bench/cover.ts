/**
 * How long the cover of a search area takes: `npm run bench cover`, with `--geos` for exact buffers timed beside it (slow),
 * `--fixes=100000` for another size. Seeded input; minimum and mean ± standard deviation of five runs after one to warm up.
 */
import { cpus } from 'node:os'
import { coverFigures, coverGrid, coverTiles, gapPolygons, gridOf, prepareCover } from '#core/cover'
import { ExactBuffers } from '../test/cover/exact-buffer.ts'
import { quotedLanes, walkedLanes } from '../test/cover/walked-lanes.ts'

const option = (name: string): string | undefined =>
  process.argv.find((word) => word.startsWith(`--${name}=`))?.split('=')[1]
const fixes = Number(option('fixes') ?? 1_000_000)
const options = { widthM: 1.2, cellM: 0.1, maxJumpM: 10, maxJumpS: 60 }
const runs = 5

/** Of the same machine type by baselines: shapely 1.8.5 on GEOS 3.11.1, 1,000,000 fixes over 59.4 ha, buffers of 200 legs, union, clip, gaps. */
const quotedGeosS = 15.0

function timed(label: string, run: () => void): number {
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
    `${label.padEnd(44)} min ${least.toFixed(3)} s   mean ${mean.toFixed(3)} ± ${spread.toFixed(3)} s`,
  )
  return least
}

const { track, area } = walkedLanes({ ...quotedLanes, fixes })
const before = process.memoryUsage().rss / 1e6
console.log(
  `${fixes} fixes, W ${options.widthM} m, cells of ${options.cellM} m; Node ${process.version}, ${cpus()[0]?.model}`,
)

const plan = prepareCover([track], area, options)
const passes = new Uint8Array(plan.rows * plan.columns)
timed('  placing tracks and area', () => prepareCover([track], area, options))
timed('  sweeping all tiles', () => coverTiles(plan, 0, plan.tiles, passes))
const cover = timed('cover, from fixes to passes (sum of the above)', () => coverGrid([track], area, options))
const grid = gridOf(plan, passes, coverTiles(plan, 0, plan.tiles, passes))
const gapsAt = timed('gaps of 4 m2 or more as polygons', () => gapPolygons(grid, { minGapM2: 4 }))
timed('all gaps as polygons', () => gapPolygons(grid, { minGapM2: 0 }))

const gaps = gapPolygons(grid, { minGapM2: 4 })
const figures = coverFigures({ plan, grid, gaps, minGapM2: 4 })
console.log(
  `  ${(figures.areaM2 / 1e4).toFixed(2)} ha, ${(grid.rows * grid.columns) / 1e6} million cells, ` +
    `${(figures.coveredShare * 100).toFixed(3)} % covered, ${figures.gaps.count} gaps of 4 m2 or more`,
)
console.log(
  `  peak of the whole process ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB (${before.toFixed(0)} MB with the input loaded)`,
)
if (fixes === 1_000_000)
  console.log(
    `  quoted: shapely 1.8.5 (GEOS 3.11.1) ${quotedGeosS} s for buffers, union, clip and gaps of other lanes like these: ` +
      `${(quotedGeosS / cover).toFixed(0)} times the cover, ${(quotedGeosS / (cover + gapsAt)).toFixed(0)} times cover and gaps`,
  )

if (process.argv.includes('--geos')) {
  const exact = await ExactBuffers.load()
  const start = performance.now()
  const truth = exact.cover([track], area, { ...options, quadrantSegments: 8, fixesAtATime: 200 })
  const seconds = (performance.now() - start) / 1000
  console.log(
    `exact buffers, union, clip, gaps: GEOS 3.13.0 in geos-wasm 3.1.1, one run   ${seconds.toFixed(2)} s ` +
      `(${(seconds / cover).toFixed(0)} times the cover, ${(seconds / (cover + gapsAt)).toFixed(0)} times cover and gaps)`,
  )
  console.log(
    `  covered ${((100 * truth.coveredM2) / truth.areaM2).toFixed(3)} % of the area by GEOS with 8 chords a quarter`,
  )
}
