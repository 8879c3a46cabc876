import type { LaidLanes } from './parallel-lanes.ts'

/**
 * Cells of laid lanes, each walked to and fro: lanes of neighbouring strips belong together where each lies beside no other lane of
 * the other's strip.
 *
 * Shape   indices into the lanes, ascending in strips.
 * Method  boustrophedon decomposition, strip by strip: a cell ends where the ground splits or joins.
 * Source  Choset and Pignon 1998, "Coverage path planning: the boustrophedon cellular decomposition", Field and Service Robotics.
 * Cost    linear in lanes, where strips hold few.
 */
export function laneCells({ strip, from, to }: LaidLanes): Uint32Array[] {
  const lanes = strip.length
  const next = new Int32Array(lanes).fill(-1)
  const before = new Int32Array(lanes).fill(-1)
  const above = new Uint32Array(lanes)
  const below = new Uint32Array(lanes)
  let begin = 0
  while (begin < lanes) {
    let middle = begin
    while (middle < lanes && strip[middle] === strip[begin]) middle++
    let end = middle
    while (end < lanes && strip[end] === strip[begin]! + 1) end++
    for (let i = begin; i < middle; i++) {
      for (let j = middle; j < end && from[j]! < to[i]!; j++) {
        if (to[j]! <= from[i]!) continue
        above[i]!++
        below[j]!++
        next[i] = j
        before[j] = i
      }
    }
    begin = middle
  }
  const cells: Uint32Array[] = []
  for (let i = 0; i < lanes; i++) {
    if (below[i] === 1 && above[before[i]!] === 1) continue
    const cell = [i]
    for (let k = i; above[k] === 1 && below[next[k]!] === 1; ) {
      k = next[k]!
      cell.push(k)
    }
    cells.push(Uint32Array.from(cell))
  }
  return cells
}
