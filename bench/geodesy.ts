/**
 * How long a coordinate takes: 1,000,000 seeded places of Great Britain to the National Grid by OSTN15, and back; the same in UTM.
 *
 *   node bench/geodesy.ts
 */
import { readFileSync } from 'node:fs'
import { cpus } from 'node:os'
import { performance } from 'node:perf_hooks'
import { brotliDecompressSync } from 'node:zlib'
import { decodeShiftGrid, type PlanarGrid, planarGrid } from '#core/geodesy'

const points = 1_000_000
const rounds = 9

const shift = decodeShiftGrid(
  brotliDecompressSync(readFileSync(new URL('../data/ostn15.bin.br', import.meta.url))),
)

/** Places between the Lizard and Shetland, seed 27700, by a linear congruential generator (Numerical Recipes). */
const lonLat = new Float64Array(2 * points)
let state = 27_700
for (let i = 0; i < 2 * points; i += 2) {
  state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
  lonLat[i] = -6.5 + (8 * state) / 2 ** 32
  state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
  lonLat[i + 1] = 50 + (10 * state) / 2 ** 32
}
const xy = new Float64Array(2 * points)
const back = new Float64Array(2 * points)

function time(name: string, work: () => void): void {
  work()
  const times = Array.from({ length: rounds }, () => {
    const start = performance.now()
    work()
    return ((performance.now() - start) * 1000) / points
  })
  const mean = times.reduce((sum, value) => sum + value, 0) / rounds
  const sd = Math.sqrt(times.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (rounds - 1))
  const show = (value: number): string => value.toFixed(3)
  console.log(
    `${name.padEnd(44)} min ${show(Math.min(...times))}  mean ${show(mean)} ± ${show(sd)} µs a point`,
  )
}

function bothWays(grid: PlanarGrid): void {
  time(`${grid.name}, ${grid.method}, forward`.slice(0, 44), () => grid.forward(lonLat, xy))
  if (xy.some(Number.isNaN)) throw new Error('a place fell outside the grid')
  time(`${grid.name}, inverse`, () => grid.inverse(xy, back))
  const worst = back.reduce((most, value, i) => Math.max(most, Math.abs(value - lonLat[i]!)), 0)
  console.log(`${''.padEnd(44)} round trip to ${(worst * 111_200 * 1e9).toPrecision(2)} nm`)
}

console.log(
  `${points} points, ${rounds} rounds after one to warm up; ${cpus()[0]?.model ?? 'unknown processor'}, Node ${process.versions.node}`,
)
bothWays(planarGrid(27_700, shift))
bothWays(planarGrid(32_630, null))
console.log(`
Peers, measured apart on a Debian 12 machine with two virtual processors (medians of three; other programs, other work):
pyproj 3.4.1 (PROJ 9.1.1), 27700 by the seven-parameter transformation, 1,000,000 points    0.43 forward  0.39 inverse
  (about 5 m off: it does less than OSTN15)
Geo::Coordinates::OSGB 2.20 (Perl), 27700 by OSTN15, 10,000 points                          6.1 forward  12.2 inverse`)
