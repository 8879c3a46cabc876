import type { Raster } from '../candidate.ts'
import { type LevelSource, type LevelWindow, sizeAt } from './levels.ts'

/** Windows of so many pixels of a level, and how many at most. */
export interface SampleSize {
  readonly wide: number
  readonly tall: number
  readonly most: number
}

/** A length that transforms are quick for. */
const usualSize: SampleSize = { wide: 480, tall: 480, most: 3 }

/** Windows at least half of which has data, spread over the image; the emptier ones where there are no such. */
export function sampleWindows(
  source: LevelSource,
  level: number,
  { wide, tall, most } = usualSize,
): LevelWindow[] {
  const { columns, rows } = sizeAt(source, level)
  const starts = (length: number, part: number): number[] => {
    const count = Math.min(5, Math.max(1, Math.floor(length / part)))
    if (count === 1) return [Math.floor((length - part) / 2)]
    return Array.from({ length: count }, (_, i) => Math.floor((i * (length - part)) / (count - 1)))
  }
  const windows = starts(rows, tall).flatMap((top) =>
    starts(columns, wide).map((left) => ({ left, top, columns: wide, rows: tall })),
  )
  // An even choice first; those without data are replaced by the others, in a fixed order.
  const stride = 7
  const order = new Set([...windows.map((_, i) => (i * stride) % windows.length), ...windows.keys()])
  const full: LevelWindow[] = []
  const sparse: LevelWindow[] = []
  for (const i of order) {
    if (full.length === most) break
    const share = knownShare(source.read(level, windows[i]!))
    if (share >= 0.5) full.push(windows[i]!)
    else if (share > 0) sparse.push(windows[i]!)
  }
  return full.length > 0 ? full : sparse.slice(0, most)
}

function knownShare({ values }: Raster): number {
  let known = 0
  for (let i = 0; i < values.length; i++) if (!Number.isNaN(values[i]!)) known++
  return known / values.length
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
