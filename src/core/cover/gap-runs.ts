import { SurveyError } from '#core/faults'
import type { CoverGrid, CoverProgress } from './cover-grid.ts'

/**
 * Ground not reached as runs of cells: in each row the stretches with no pass, and which of them hang together.
 * Run `i` covers columns `from[i]` up to `to[i]` of its row; row `r` owns runs `rowStart[r]` up to `rowStart[r + 1]`.
 */
export interface GapRuns {
  readonly rowStart: Uint32Array
  readonly from: Int32Array
  readonly to: Int32Array
  /** Number of the gap that each run belongs to, from 0 in the order of their first cell from the north-west. */
  readonly gap: Uint32Array
  /** Cells of each gap. */
  readonly cells: Float64Array
}

/** Runs while their number is not yet known; the arrays double as they fill. */
interface GrowingRuns {
  length: number
  from: Int32Array
  to: Int32Array
  /** Union-find: the parent of each run, itself at a root. A root is the first of its runs. */
  parent: Uint32Array
}

/**
 * Joins the cells without a pass into gaps; cells that meet at a side or a corner hang together.
 *
 * Method  union-find over runs of cells with path halving (Rosenfeld and Pfaltz 1966, Journal of the ACM 13, on runs).
 * Cost    one look at each cell, 12 bytes a run; near linear.
 * Faults  SurveyError('cancelled').
 */
export function gapRuns(grid: CoverGrid, progress?: CoverProgress, stop?: () => boolean): GapRuns {
  const { rows, columns, passes } = grid
  const words = inWords(passes)
  const rowStart = new Uint32Array(rows + 1)
  const first = 1 << 12
  const runs: GrowingRuns = {
    length: 0,
    from: new Int32Array(first),
    to: new Int32Array(first),
    parent: new Uint32Array(first),
  }
  for (let r = 0; r < rows; r++) {
    if (r % 256 === 0) {
      if (stop?.())
        throw new SurveyError('cancelled', 'The search for gaps was cancelled; nothing was changed.')
      progress?.(r / rows, 'joining the ground not reached')
    }
    rowStart[r] = runs.length
    findRuns(passes, words, r * columns, columns, runs)
    if (r > 0) joinRows(runs, rowStart[r - 1]!, rowStart[r]!)
  }
  rowStart[rows] = runs.length
  return numbered(runs, rowStart)
}

/**
 * Notes the runs of one row. `words` are the same cells four at a time, where the memory allows it: whole words inside a
 * run or between runs are passed over at once.
 */
function findRuns(
  passes: Uint8Array,
  words: Uint32Array | null,
  rowAt: number,
  columns: number,
  runs: GrowingRuns,
): void {
  const end = rowAt + columns
  let p = rowAt
  for (;;) {
    while (p < end && passes[p] !== 0) {
      p++
      if (words === null || (p & 3) !== 0) continue
      let w = p >> 2
      while (p + 4 <= end && !hasZero(words[w]!)) {
        p += 4
        w++
      }
    }
    if (p === end) return
    const begin = p
    while (p < end && passes[p] === 0) {
      p++
      if (words === null || (p & 3) !== 0) continue
      while (p + 4 <= end && words[p >> 2] === 0) p += 4
    }
    if (runs.length === runs.from.length) grow(runs)
    runs.from[runs.length] = begin - rowAt
    runs.to[runs.length] = p - rowAt
    runs.parent[runs.length] = runs.length
    runs.length++
  }
}

/** Whether one of the four bytes of a word is 0 (Mycroft's test: borrowing from a byte reaches its top bit only from 0). */
function hasZero(word: number): boolean {
  return ((word - 0x01010101) & ~word & 0x80808080) !== 0
}

/** The cells four at a time; null where they do not begin on a word. The cells past the last whole word are left out. */
function inWords(passes: Uint8Array): Uint32Array | null {
  if (passes.byteOffset % 4 !== 0) return null
  return new Uint32Array(passes.buffer, passes.byteOffset, passes.length >> 2)
}

function grow(runs: GrowingRuns): void {
  const size = runs.from.length * 2
  const from = new Int32Array(size)
  const to = new Int32Array(size)
  const parent = new Uint32Array(size)
  from.set(runs.from)
  to.set(runs.to)
  parent.set(runs.parent)
  Object.assign(runs, { from, to, parent })
}

/** Joins the runs of the latest row (from `here` on) with those of the row before (from `above` up to `here`). */
function joinRows(runs: GrowingRuns, above: number, here: number): void {
  const { from, to, parent, length } = runs
  let a = above
  let b = here
  while (a < here && b < length) {
    if (from[a]! <= to[b]! && from[b]! <= to[a]!) {
      const p = rootOf(parent, a)
      const q = rootOf(parent, b)
      if (p < q) parent[q] = p
      else parent[p] = q
    }
    if (to[a]! < to[b]!) a++
    else b++
  }
}

function rootOf(parent: Uint32Array, run: number): number {
  let r = run
  while (parent[r] !== r) {
    const up = parent[parent[r]!]!
    parent[r] = up
    r = up
  }
  return r
}

function numbered({ from, to, parent, length }: GrowingRuns, rowStart: Uint32Array): GapRuns {
  const gap = new Uint32Array(length)
  let gaps = 0
  // A root comes before all runs below it, and a parent before its child.
  for (let i = 0; i < length; i++) gap[i] = parent[i] === i ? gaps++ : gap[parent[i]!]!
  const cells = new Float64Array(gaps)
  for (let i = 0; i < length; i++) cells[gap[i]!]! += to[i]! - from[i]!
  return { rowStart, from: from.subarray(0, length), to: to.subarray(0, length), gap, cells }
}
