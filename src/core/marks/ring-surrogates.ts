import { type Random, seededRandom } from '#core/random'
import type { Raster } from './candidate.ts'
import { distinctRings } from './distinct-rings.ts'
import { type FalseAlarmCurve, falseAlarmCurve } from './false-alarms.ts'
import { halved, type LevelSource } from './levels.ts'
import { meansTakenOut, sampleWindows, scaledWindow } from './ring-ground.ts'
import { type RingSearch, ringsInWindow } from './ring-search.ts'
import { phaseSurrogate } from './surrogate.ts'

/** Surrogates a level: the finest has the most false alarms a million pixels, and the least ground in each. */
const surrogatesAt = (level: number): number => (level === 0 ? 4 : 2)

/** Runs a search on surrogates of the image's own ground and gives the rate of what it finds there. */
export function searchFalseAlarms(source: LevelSource, search: RingSearch, seed: number): FalseAlarmCurve {
  const { plan } = search
  const random = seededRandom(seed)
  const windows = sampleWindows(source, plan.level)
  const odds: number[] = []
  let area = 0
  const scale = 2 ** (plan.level - plan.look)
  for (let n = 0; n < surrogatesAt(plan.level); n++) {
    const window = windows[n % windows.length]!
    const ground = meansTakenOut(source.read(plan.look, scaledWindow(window, scale)), scale)
    const made = surrogateOf(ground, random)
    const { columns, rows } = plan.look === plan.level ? made : halved(made)
    const found = ringsInWindow(surrogateSource(made, search), search, { left: 0, top: 0, columns, rows })
    for (const { logOdds } of distinctRings(found)) odds.push(logOdds)
    area += (columns * rows * 4 ** plan.level) / 1e6
  }
  return falseAlarmCurve(odds, area)
}

function surrogateOf(ground: Raster, random: Random): Raster {
  return phaseSurrogate(ground, random)
}

function surrogateSource(made: Raster, { plan }: RingSearch): LevelSource {
  const scale = 2 ** plan.look
  return {
    columns: made.columns * scale,
    rows: made.rows * scale,
    read: (level) => (level === plan.look ? made : halved(made)),
  }
}
