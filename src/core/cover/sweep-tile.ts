import { loneFix } from '#core/track'
import type { CoverPlan } from './cover-plan.ts'
import { centreEast, centreNorth } from './lattice.ts'
import { chunk } from './place-fixes.ts'

/** The most passes a cell can count; a cell at this value has this many or more. */
export const mostPasses = 254

/**
 * Adds one pass to every cell between two columns of a row, as far as they lie in the grid. Cells outside the area hold
 * 255 and keep it; a cell at `mostPasses` keeps that.
 */
function addPass(passes: Uint8Array, rowAt: number, columns: number, from: number, to: number): void {
  const end = rowAt + Math.min(to, columns)
  for (let p = rowAt + Math.max(from, 0); p < end; p++) {
    const value = passes[p]!
    if (value < mostPasses) passes[p] = value + 1
  }
}

/**
 * Sweeps all legs over the rows `rowFrom` (0 = northernmost) up to `rowTo` and counts passes.
 *
 * A leg sweeps all points within half a swath of it: a rectangle with a half disc at each end. In one row of cells that
 * is a single span, whose ends lie on the arc about one end, on a straight edge, or on the arc about the other. A pass is
 * one contiguous time in which the swath, the disc about the walker, touches the cell. So a leg that carries on from the
 * one before begins a new pass only where it leaves the disc about its first fix: what lies in that disc was being touched
 * as the leg began. Counted so, the number of fixes along a line does not matter, nor does the direction of walking.
 *
 * Cost  per leg some 2 W / cell rows, and one step for each cell that the leg newly touches: no store besides `passes`.
 */
export function sweepTile(plan: CoverPlan, rowFrom: number, rowTo: number, passes: Uint8Array): void {
  const { columns, rows } = plan
  const { column, row, east, north, kind, reach } = plan.fixes
  const radius = plan.options.widthM / 2 / plan.cellM
  const squared = radius * radius
  // Rows of the tile counted from the south, both within the tile.
  const southmost = rows - rowTo
  const northmost = rows - 1 - rowFrom
  for (let at = 0, c = 0; at < kind.length; at += chunk, c += 4) {
    if (reach[c]! >= columns || reach[c + 2]! < 0) continue
    if (reach[c + 1]! > northmost || reach[c + 3]! < southmost) continue
    const end = Math.min(at + chunk, kind.length)
    for (let i = at; i < end; i++) {
      if (kind[i] === 0) continue
      const j = kind[i] === loneFix ? i : i + 1
      const carriesOn = i > 0 && kind[i - 1] === 1
      // From the lower end to the higher, so that a leg and its reverse are one and the same sum.
      let dx = column[j]! - column[i]! + (east[j]! - east[i]!)
      let dy = row[j]! - row[i]! + (north[j]! - north[i]!)
      const downwards = dy < 0 || (dy === 0 && dx < 0)
      const low = downwards ? j : i
      if (downwards) {
        dx = -dx
        dy = -dy
      }
      const length = Math.sqrt(dx * dx + dy * dy)
      // The left edge runs from (edgeX, edgeY) from the lower end, by the leg; the right edge from (-edgeX, -edgeY).
      const edgeX = length > 0 ? (-radius * dy) / length : 0
      const edgeY = length > 0 ? (radius * dx) / length : 0
      const slope = dy > 0 ? dx / dy : 0
      // Where the centre of the lower end's own row, and of its own cell, lie from the lower end.
      const riseOfRow = centreNorth - north[low]!
      const eastOfCell = centreEast - east[low]!
      const lowColumn = column[low]!
      const lowRow = row[low]!
      let first = lowRow + Math.ceil(-radius - riseOfRow)
      let last = lowRow + Math.ceil(dy + radius - riseOfRow) - 1
      if (first < southmost) first = southmost
      if (last > northmost) last = northmost
      for (let r = first; r <= last; r++) {
        const rise = r - lowRow + riseOfRow
        const above = rise - dy
        const lowHalf = squared - rise * rise
        const highHalf = squared - above * above
        const lowArc = lowHalf > 0 ? Math.sqrt(lowHalf) : 0
        const highArc = highHalf > 0 ? Math.sqrt(highHalf) : 0
        let left = dx - highArc
        if (rise < edgeY) left = -lowArc
        else if (above <= edgeY) left = edgeX + (rise - edgeY) * slope
        let right = dx + highArc
        if (rise < -edgeY) right = lowArc
        else if (above <= -edgeY) right = (rise + edgeY) * slope - edgeX
        const rowAt = (rows - 1 - r) * columns
        const from = lowColumn + Math.ceil(left - eastOfCell)
        const to = lowColumn + Math.ceil(right - eastOfCell)
        const startHalf = downwards ? highHalf : lowHalf
        if (carriesOn && startHalf > 0) {
          const middle = downwards ? dx : 0
          const arc = downwards ? highArc : lowArc
          const touchedFrom = lowColumn + Math.ceil(middle - arc - eastOfCell)
          const touchedTo = lowColumn + Math.ceil(middle + arc - eastOfCell)
          if (from < touchedFrom) addPass(passes, rowAt, columns, from, touchedFrom)
          if (touchedTo < to) addPass(passes, rowAt, columns, touchedTo, to)
        } else addPass(passes, rowAt, columns, from, to)
      }
    }
  }
}
