import { type LineSettings, leastLineWidthPx } from './line-candidate.ts'

/** Of the shortest line, pixels of the image: below it no line can be told from a blob. */
export const leastLengthPx = 10

/** A line is looked for at the level at which it is at most this wide, pixels; the next level takes over at half of it. */
const widestAtLevel = 4

/**
 * Levels at which lines of a range of widths are looked for, so that every line is some 2 to 4 pixels wide at its own.
 * Faults: RangeError for a range that is empty or begins below 1.5 pixels, and for lengths below 10 pixels.
 */
export function linePlan({ minWidthPx, maxWidthPx, leastLengthPx: length }: LineSettings): number[] {
  if (!(minWidthPx >= leastLineWidthPx && minWidthPx <= maxWidthPx && Number.isFinite(maxWidthPx)))
    throw new RangeError(`no lines of ${minWidthPx} to ${maxWidthPx} pixels can be looked for`)
  if (!(length >= leastLengthPx && Number.isFinite(length)))
    throw new RangeError(`no lines of ${length} pixels can be looked for`)
  const levels: number[] = []
  for (let level = 0; ; level++) {
    const widest = widestAtLevel * 2 ** level
    if (level === 0 ? minWidthPx <= widest : maxWidthPx > widest / 2 && minWidthPx <= widest)
      levels.push(level)
    if (maxWidthPx <= widest) return levels
  }
}
