import type { Raster } from '../candidate.ts'
import { type LevelSource, type LevelWindow, sizeAt } from './levels.ts'

/** With the reach of the widest kernel of rings, a power of two; a length that transforms are quick for. */
const blockSide = 480
const mostBlocks = 3

const windowsKnown = new WeakMap<LevelSource, Map<number, LevelWindow[]>>()

/** Windows of some blocks at least half of which has data, spread over the image; of the emptier ones where there are no such. Remembered as long as the source is. */
export function sampleWindows(source: LevelSource, level: number): LevelWindow[] {
  let ofSource = windowsKnown.get(source)
  if (!ofSource) {
    ofSource = new Map()
    windowsKnown.set(source, ofSource)
  }
  const known = ofSource.get(level)
  if (known) return known
  const found = chosenWindows(source, level)
  ofSource.set(level, found)
  return found
}

function chosenWindows(source: LevelSource, level: number): LevelWindow[] {
  const { columns, rows } = sizeAt(source, level)
  const starts = (length: number): number[] => {
    const count = Math.min(5, Math.max(1, Math.floor(length / blockSide)))
    if (count === 1) return [Math.floor((length - blockSide) / 2)]
    return Array.from({ length: count }, (_, i) => Math.floor((i * (length - blockSide)) / (count - 1)))
  }
  const windows = starts(rows).flatMap((top) =>
    starts(columns).map((left) => ({ left, top, columns: blockSide, rows: blockSide })),
  )
  // An even choice first; those without data are replaced by the others, in a fixed order.
  const stride = 7
  const order = new Set([...windows.map((_, i) => (i * stride) % windows.length), ...windows.keys()])
  const full: LevelWindow[] = []
  const sparse: LevelWindow[] = []
  for (const i of order) {
    if (full.length === mostBlocks) break
    const { values } = source.read(level, windows[i]!)
    let known = 0
    for (let i = 0; i < values.length; i++) if (!Number.isNaN(values[i]!)) known++
    if (2 * known >= values.length) full.push(windows[i]!)
    else if (known > 0) sparse.push(windows[i]!)
  }
  return full.length > 0 ? full : sparse.slice(0, mostBlocks)
}

/** A spread that grain may not be taken to be finer than: a tenth of the usual one of some windows; null where none has any difference between two pixels. */
export function leastSpreadOf(windows: readonly Raster[]): number | null {
  const known = windows.map(meanDeviation).filter((value) => value > 0)
  return known.length === 0 ? null : 0.1 * known.toSorted((a, b) => a - b)[known.length >> 1]!
}

function meanDeviation({ columns, values }: Raster): number {
  // Differences over a few pixels: what is broad does not count.
  let sum = 0
  let count = 0
  for (let i = 4; i < values.length; i++) {
    if (i % columns < 4) continue
    const off = values[i]! - values[i - 4]!
    if (Number.isNaN(off)) continue
    sum += Math.abs(off)
    count++
  }
  return count > 0 ? sum / count : 0
}
