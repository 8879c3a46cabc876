import { SurveyError } from '#core/faults'
import { groundAt } from '#core/imagery'
import { type LineCandidate, type LineSettings, leastLengthPx, leastLineWidthPx } from '#core/marks'
import type { Ground } from './marks-ground.ts'
import type { MarksRaster } from './marks-raster.ts'

export interface LineWishes {
  readonly kind: 'line'
  /** Of the ditch or bank, metres; pixels where the raster names no coordinate system. */
  readonly width: { readonly from: number; readonly to: number }
  /** Shorter ones are left out; null for ten times the narrowest width, or what the raster can show. */
  readonly length: number | null
}

/** A line or an enclosure on the ground, in metres of the raster's system; pixels where it names none. */
export interface PlacedLine {
  readonly kind: LineCandidate['kind']
  /** Halfway along a line; the middle of an enclosure. */
  readonly x: number
  readonly y: number
  readonly coordinates: readonly (readonly [number, number])[]
  readonly length: number
  readonly width: number
  readonly tone: LineCandidate['tone']
  readonly completeness: number
  readonly contrast: number
  readonly pairSpacing: number | null
  readonly mayBe: LineCandidate['mayBe']
  /** Null where the size of a pixel is not known. */
  readonly falseAlarmsPerKm2: number | null
  readonly falseAlarmsPerMpx: number
}

/** A line that is asked for without a length is at least so many times as long as the narrowest is wide. */
const usualLengthInWidths = 10

/** Faults: SurveyError 'setting-out-of-range' for widths or lengths that the raster cannot show. */
export function lineSettings(
  name: string,
  { width, length, tone, most }: LineWishes & Pick<LineSettings, 'tone' | 'most'>,
  { columns, rows }: MarksRaster,
  pixelM: number | null,
): LineSettings {
  const pixel = pixelM ?? 1
  const plain = (value: number): string =>
    `${Number(value.toPrecision(3))} ${pixelM === null ? 'pixels' : 'm'}`
  const fail = (sentence: string): never => {
    throw new SurveyError('setting-out-of-range', sentence)
  }
  const { from, to } = width
  if (from > to) fail(`The range of widths is reversed: ${from} to ${to}; give the smaller one first.`)
  const least = leastLineWidthPx * pixel
  if (from < least) {
    fail(
      `${name} has pixels of ${plain(pixel)}, so the narrowest line that it can show is ${plain(least)} wide, not ${plain(from)}.`,
    )
  }
  const across = Math.min(columns, rows) * pixel
  if (to > across / 4) {
    fail(
      `${name} is ${plain(across)} across its shorter side; no line wider than a quarter of that can be told from the ground, so ask for less than ${plain(to)}.`,
    )
  }
  const shortest = leastLengthPx * pixel
  const asked = length ?? Math.max(shortest, usualLengthInWidths * from)
  if (asked < shortest) {
    fail(
      `${name} has pixels of ${plain(pixel)}, so the shortest line that can be told from a blob is ${plain(shortest)} long, not ${plain(asked)}.`,
    )
  }
  if (asked > Math.hypot(columns, rows) * pixel) {
    fail(
      `${name} is ${plain(Math.hypot(columns, rows) * pixel)} from corner to corner, so no line of ${plain(asked)} fits into it; ask for less.`,
    )
  }
  return {
    minWidthPx: from / pixel,
    maxWidthPx: to / pixel,
    leastLengthPx: asked / pixel,
    tone,
    most,
    ...(pixelM === null ? {} : { pixelM }),
  }
}

export function placedLine(candidate: LineCandidate, ground: Ground | null): PlacedLine {
  const { kind, xy, length, width, tone, completeness, contrast, pairSpacing, mayBe, falseAlarmsPerMpx } =
    candidate
  const pixel = ground?.pixelM ?? 1
  const place = (x: number, y: number): readonly [number, number] =>
    ground ? (groundAt(ground.placement, x, y) as [number, number]) : [x, y]
  const [x, y] = place(...middleOf(candidate))
  return {
    kind,
    x,
    y,
    coordinates: Array.from({ length: xy.length / 2 }, (_, i) => place(xy[2 * i]!, xy[2 * i + 1]!)),
    length: length * pixel,
    width: width * pixel,
    tone,
    completeness,
    contrast,
    pairSpacing: pairSpacing === null ? null : pairSpacing * pixel,
    mayBe,
    // A million pixels are pixelM^2 square kilometres.
    falseAlarmsPerKm2: ground ? falseAlarmsPerMpx / (pixel * pixel) : null,
    falseAlarmsPerMpx,
  }
}

function middleOf({ kind, xy, length }: LineCandidate): [number, number] {
  if (kind === 'enclosure') {
    let [sumX, sumY] = [0, 0]
    for (let i = 2; i < xy.length; i += 2) [sumX, sumY] = [sumX + xy[i]!, sumY + xy[i + 1]!]
    const count = xy.length / 2 - 1
    return [sumX / count, sumY / count]
  }
  let left = length / 2
  for (let i = 2; i < xy.length; i += 2) {
    const [dx, dy] = [xy[i]! - xy[i - 2]!, xy[i + 1]! - xy[i - 1]!]
    const own = Math.hypot(dx, dy)
    if (left <= own && own > 0) return [xy[i - 2]! + (left / own) * dx, xy[i - 1]! + (left / own) * dy]
    left -= own
  }
  return [xy.at(-2)!, xy.at(-1)!]
}
