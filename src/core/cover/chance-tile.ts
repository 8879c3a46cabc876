import { loneFix, sweptStep } from '#core/track'
import type { ChanceTable } from './chance-table.ts'
import type { CoverPlan } from './cover-plan.ts'
import { centreEast, centreNorth } from './lattice.ts'
import { chunk } from './place-fixes.ts'

/** What the chance of a plan's cells is worked out from. */
export interface ChanceSums {
  /** Placed for a swath that reaches as far as the table does. */
  readonly plan: CoverPlan
  /** Its reach and steps in cells. */
  readonly table: ChanceTable
  /** Ratio D / a of the zigzag on the leg that begins at each fix; null where it does not count. */
  readonly ratio: Float32Array | null
  /** A walk has gone away, or come back, when its distance has changed by more than this, in cells. */
  readonly awayCells: number
}

/** The state of the cells of a tile while its legs are taken in order. */
interface TileState {
  /** Product of 1 - p over the passes that have ended. */
  readonly missed: Float64Array
  /** Greatest chance within the pass that goes on. */
  readonly best: Float32Array
  /** Least distance within that pass, and the greatest one since, infinite beyond reach; in cells. */
  readonly near: Float32Array
  readonly far: Float32Array
  /** The unbroken walk that the pass belongs to: 0 before the first, -1 outside the area. */
  readonly walk: Int32Array
}

/**
 * Works out the chance of each cell of the rows `rowFrom` up to `rowTo` and writes it into `chance`; NaN outside the area.
 *
 * A pass here is one approach: it ends when the walk breaks off, when the walker goes out of reach, or when, having been
 * farther off than at the nearest by more than a swath, the walker comes nearer again by more than a swath. Within a pass the greatest chance counts, over
 * passes 1 - product(1 - p). Along one leg the distance falls and then rises, so its least value and that at its end are
 * all that need be looked at, and more fixes on the same line change nothing.
 *
 * Cost  per leg the cells within reach of it; 24 bytes a cell of the tile.
 */
export function chanceTile(sums: ChanceSums, rowFrom: number, rowTo: number, chance: Float32Array): void {
  const { plan, table } = sums
  const { columns, rows } = plan
  const { column, row, north, kind, reach } = plan.fixes
  const state = freshState(plan, rowFrom, rowTo)
  const southmost = rows - rowTo
  const northmost = rows - 1 - rowFrom
  let walk = 0
  for (let at = 0, c = 0; at < kind.length; at += chunk, c += 4) {
    const end = Math.min(at + chunk, kind.length)
    const idle =
      reach[c]! >= columns || reach[c + 2]! < 0 || reach[c + 1]! > northmost || reach[c + 3]! < southmost
    for (let i = at; i < end; i++) {
      if (kind[i] === 0) continue
      if (i === 0 || kind[i - 1] !== sweptStep) walk++
      if (idle) continue
      const j = kind[i] === loneFix ? i : i + 1
      const dx = column[j]! - column[i]! + (plan.fixes.east[j]! - plan.fixes.east[i]!)
      const dy = row[j]! - row[i]! + (north[j]! - north[i]!)
      const rise = centreNorth - north[i]!
      const first = Math.max(southmost, row[i]! + Math.ceil(Math.min(0, dy) - table.reach - rise))
      const last = Math.min(northmost, row[i]! + Math.floor(Math.max(0, dy) + table.reach - rise))
      for (let r = first; r <= last; r++)
        chanceRow(sums, state, i, dx, dy, r - row[i]! + rise, (rows - 1 - r - rowFrom) * columns, walk)
    }
  }
  for (let p = 0; p < state.walk.length; p++)
    chance[rowFrom * columns + p] =
      state.walk[p] === -1 ? Number.NaN : 1 - state.missed[p]! * (1 - state.best[p]!)
}

/** One leg over one row of cells, `rise` north of its first fix. */
function chanceRow(
  { plan, table, ratio, awayCells }: ChanceSums,
  { missed, best, near, far, walk }: TileState,
  leg: number,
  dx: number,
  dy: number,
  rise: number,
  rowAt: number,
  walkNumber: number,
): void {
  const { column, east } = plan.fixes
  const square = dx * dx + dy * dy
  const inverse = square > 0 ? 1 / square : 0
  const eastOfCell = centreEast - east[leg]!
  const reachSquared = table.reach * table.reach
  // Two rows of the table by ratio, and how far it lies between them.
  const place = ratio === null ? 0 : (Math.min(2, ratio[leg]!) / 2) * (table.rows - 1)
  const low = Math.min(Math.floor(place), Math.max(0, table.rows - 2))
  const lowAt = low * (table.steps + 2)
  const highAt = Math.min(low + 1, table.rows - 1) * (table.steps + 2)
  const between = place - low
  const stepsACell = table.steps / table.reach
  const from = Math.max(0, column[leg]! + Math.ceil(Math.min(0, dx) - table.reach - eastOfCell))
  const to = Math.min(plan.columns - 1, column[leg]! + Math.floor(Math.max(0, dx) + table.reach - eastOfCell))
  for (let c = from; c <= to; c++) {
    const p = rowAt + c
    const of = walk[p]!
    if (of === -1) continue
    const x = c - column[leg]! + eastOfCell
    const along = Math.max(0, Math.min(1, (x * dx + rise * dy) * inverse))
    const offX = x - along * dx
    const offY = rise - along * dy
    const offSquared = offX * offX + offY * offY
    if (offSquared >= reachSquared) continue
    const distance = Math.sqrt(offSquared)
    const step = distance * stepsACell
    const k = Math.floor(step)
    const part = step - k
    const lowChance = table.chance[lowAt + k]! * (1 - part) + table.chance[lowAt + k + 1]! * part
    const highChance = table.chance[highAt + k]! * (1 - part) + table.chance[highAt + k + 1]! * part
    const sensed = lowChance + between * (highChance - lowChance)
    if (of !== walkNumber || (far[p]! - near[p]! > awayCells && distance < far[p]! - awayCells)) {
      missed[p]! *= 1 - best[p]!
      walk[p] = walkNumber
      best[p] = sensed
      near[p] = distance
      far[p] = distance
    } else {
      if (sensed > best[p]!) best[p] = sensed
      if (distance < near[p]!) {
        near[p] = distance
        far[p] = distance
      }
    }
    const endX = x - dx
    const endY = rise - dy
    const endSquared = endX * endX + endY * endY
    if (endSquared >= reachSquared) far[p] = Infinity
    else if (endSquared > far[p]! * far[p]!) far[p] = Math.sqrt(endSquared)
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
    missed: new Float64Array(cells).fill(1),
    best: new Float32Array(cells),
    near: new Float32Array(cells),
    far: new Float32Array(cells),
    walk,
  }
}
