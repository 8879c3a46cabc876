import { loneFix, sweptStep } from '#core/track'
import type { ChanceTable } from './chance-table.ts'
import type { CoverPlan } from './cover-plan.ts'
import { centreEast, centreNorth } from './lattice.ts'
import { chunk } from './place-fixes.ts'

/** What the chance of a plan's cells is worked out from. */
export interface ChanceSums {
  /** Placed for a swath that reaches as far as the farthest table does. */
  readonly plan: CoverPlan
  /** One for each class of error; reach and steps in cells. */
  readonly tables: readonly ChanceTable[]
  /** Class of error of the leg that begins at each fix. */
  readonly errorClass: Uint8Array
  /** Ratio D / a of the zigzag on the leg that begins at each fix; null where it does not count. */
  readonly ratio: Float32Array | null
  /** A walk has gone away, or come back, when its distance has changed by more than this, in cells. */
  readonly awayCells: number
  /** Looks at every cell near a leg, also those that lie ahead of a leg which goes on: for checks. */
  readonly exact: boolean
}

/** The state of the cells of a tile while its legs are taken in order. */
interface TileState {
  /** Product of 1 - p over the passes that have ended. */
  readonly missed: Float32Array
  /** Greatest chance within the pass that goes on. */
  readonly best: Float32Array
  /** Least distance within that pass, in cells, and the square of the greatest one since, infinite beyond reach. */
  readonly near: Float32Array
  readonly farSquared: Float32Array
  /** The unbroken walk that the pass belongs to: 0 before the first, -1 outside the area. */
  readonly walk: Int32Array
}

/**
 * Works out the chance of each cell of the rows `rowFrom` up to `rowTo` and writes it into `chance`; NaN outside the area.
 *
 * A pass here is one approach: it ends when the walk breaks off, when the walker goes out of reach, or when, having been
 * farther off than at the nearest by more than a swath, the walker comes nearer again by more than a swath. Within a pass the greatest chance counts, over
 * passes 1 - product(1 - p). Along one leg the distance falls and then rises, so its least value and that at its end are
 * all that need be looked at, and more fixes on the same line change nothing. Cells ahead of a leg that goes on are left to the next
 * one, which begins where this one ends: every least distance is still seen, and every greatest one.
 *
 * Cost  per leg the cells within reach of it, some 5 ns each; 20 bytes a cell of the tile.
 */
export function chanceTile(sums: ChanceSums, rowFrom: number, rowTo: number, chance: Float32Array): void {
  const { plan, tables, errorClass } = sums
  const { columns, rows } = plan
  const { row, north, kind, reach } = plan.fixes
  const state = freshState(plan, rowFrom, rowTo)
  const byStep = new Float64Array(tables.reduce((most, { steps }) => Math.max(most, steps), 0) + 2)
  const southmost = rows - rowTo
  const northmost = rows - 1 - rowFrom
  let walk = 0
  let [readClass, readRatio] = [-1, -1]
  for (let at = 0, c = 0; at < kind.length; at += chunk, c += 4) {
    const end = Math.min(at + chunk, kind.length)
    const idle =
      reach[c]! >= columns || reach[c + 2]! < 0 || reach[c + 1]! > northmost || reach[c + 3]! < southmost
    for (let i = at; i < end; i++) {
      if (kind[i] === 0) continue
      if (i === 0 || kind[i - 1] !== sweptStep) walk++
      if (idle) continue
      const table = tables[errorClass[i]!]!
      const j = kind[i] === loneFix ? i : i + 1
      const low = Math.min(row[i]! + north[i]!, row[j]! + north[j]!) - table.reach - 1
      const high = Math.max(row[i]! + north[i]!, row[j]! + north[j]!) + table.reach + 1
      if (high < southmost || low > northmost + 1) continue
      const ratio = sums.ratio === null ? 2 : sums.ratio[i]!
      if (errorClass[i] !== readClass || ratio !== readRatio) readTable(table, ratio, byStep)
      readClass = errorClass[i]!
      readRatio = ratio
      sweepLeg(sums, table, byStep, state, i, rowFrom, rowTo, walk)
    }
  }
  for (let p = 0; p < state.walk.length; p++)
    chance[rowFrom * columns + p] =
      state.walk[p] === -1 ? Number.NaN : 1 - state.missed[p]! * (1 - state.best[p]!)
}

/** Fills the chances by step of distance for a ratio, between two rows of the table. */
function readTable({ rows, steps, chance }: ChanceTable, ratio: number, byStep: Float64Array): void {
  const place = (Math.min(2, ratio) / 2) * (rows - 1)
  const low = Math.min(Math.floor(place), Math.max(0, rows - 2))
  const lowAt = low * (steps + 2)
  const highAt = Math.min(low + 1, rows - 1) * (steps + 2)
  const between = place - low
  for (let k = 0; k < steps + 2; k++)
    byStep[k] = chance[lowAt + k]! + between * (chance[highAt + k]! - chance[lowAt + k]!)
}

/** One leg over the cells of a tile within its reach: those of its rectangle and the half disc at each end, as in sweep-tile.ts. */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: one straight numerical kernel, run for every cell near every leg
function sweepLeg(
  { plan, awayCells, exact }: ChanceSums,
  table: ChanceTable,
  byStep: Float64Array,
  { missed, best, near, farSquared, walk }: TileState,
  leg: number,
  rowFrom: number,
  rowTo: number,
  walkNumber: number,
): void {
  const { columns, rows } = plan
  const { column, row, east, north, kind } = plan.fixes
  const radius = table.reach
  const squared = radius * radius
  const stepsACell = table.steps / radius
  const j = kind[leg] === loneFix ? leg : leg + 1
  const dx = column[j]! - column[leg]! + (east[j]! - east[leg]!)
  const dy = row[j]! - row[leg]! + (north[j]! - north[leg]!)
  const downwards = dy < 0 || (dy === 0 && dx < 0)
  const upX = downwards ? -dx : dx
  const upY = downwards ? -dy : dy
  const length = Math.sqrt(dx * dx + dy * dy)
  const inverse = length > 0 ? 1 / (length * length) : 0
  const edgeX = length > 0 ? (-radius * upY) / length : 0
  const edgeY = length > 0 ? (radius * upX) / length : 0
  const slope = upY > 0 ? upX / upY : 0
  const lower = downwards ? j : leg
  const rise0 = centreNorth - north[lower]!
  const east0 = centreEast - east[lower]!
  const first = Math.max(rows - rowTo, row[lower]! + Math.ceil(-radius - rise0))
  const last = Math.min(rows - 1 - rowFrom, row[lower]! + Math.ceil(upY + radius - rise0) - 1)
  const startX = centreEast - east[leg]! - column[leg]!
  const goesOn = !exact && length > 0 && j > leg && kind[j] === sweptStep
  for (let r = first; r <= last; r++) {
    const rise = r - row[lower]! + rise0
    const above = rise - upY
    const lowHalf = squared - rise * rise
    const highHalf = squared - above * above
    let left = upX - Math.sqrt(Math.max(0, highHalf))
    if (rise < edgeY) left = -Math.sqrt(Math.max(0, lowHalf))
    else if (above <= edgeY) left = edgeX + (rise - edgeY) * slope
    let right = upX + Math.sqrt(Math.max(0, highHalf))
    if (rise < -edgeY) right = Math.sqrt(Math.max(0, lowHalf))
    else if (above <= -edgeY) right = (rise + edgeY) * slope - edgeX
    let from = Math.max(0, column[lower]! + Math.ceil(left - east0))
    let to = Math.min(columns, column[lower]! + Math.ceil(right - east0))
    const y = r - row[leg]! + (centreNorth - north[leg]!)
    if (goesOn) {
      const room = length * length - y * dy
      if (dx > 0) to = Math.min(to, Math.floor(room / dx - startX) + 1)
      else if (dx < 0) from = Math.max(from, Math.ceil(room / dx - startX))
      else if (room < 0) continue
    }
    const rowAt = (rows - 1 - r - rowFrom) * columns
    const endY = y - dy
    for (let c = from; c < to; c++) {
      const p = rowAt + c
      const of = walk[p]!
      if (of === -1) continue
      const x = c + startX
      const along = Math.min(1, Math.max(0, (x * dx + y * dy) * inverse))
      const offX = x - along * dx
      const offY = y - along * dy
      const distance = Math.sqrt(offX * offX + offY * offY)
      const step = distance * stepsACell
      const k = step | 0
      const sensed = byStep[k]! + (step - k) * (byStep[k + 1]! - byStep[k]!)
      const gone = farSquared[p]!
      const away = near[p]! + awayCells
      const back = distance + awayCells
      if (of !== walkNumber || (gone > away * away && gone > back * back)) {
        missed[p]! *= 1 - best[p]!
        walk[p] = walkNumber
        best[p] = sensed
        near[p] = distance
        farSquared[p] = distance * distance
      } else {
        if (sensed > best[p]!) best[p] = sensed
        if (distance < near[p]!) {
          near[p] = distance
          farSquared[p] = distance * distance
        }
      }
      const endX = x - dx
      const endSquared = endX * endX + endY * endY
      if (endSquared >= squared) farSquared[p] = Infinity
      else if (endSquared > farSquared[p]!) farSquared[p] = endSquared
    }
  }
}

function freshState({ columns, area }: CoverPlan, rowFrom: number, rowTo: number): TileState {
  const cells = (rowTo - rowFrom) * columns
  const walk = new Int32Array(cells).fill(-1)
  for (let r = rowFrom; r < rowTo; r++) {
    const rowAt = (r - rowFrom) * columns
    for (let s = area.start[r]!; s < area.start[r + 1]!; s++)
      walk.fill(0, rowAt + area.spans[2 * s]!, rowAt + area.spans[2 * s + 1]!)
  }
  return {
    missed: new Float32Array(cells).fill(1),
    best: new Float32Array(cells),
    near: new Float32Array(cells),
    farSquared: new Float32Array(cells),
    walk,
  }
}
