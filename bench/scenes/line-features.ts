import { type Random, uniform, unit } from '#core/random'
import type { Canvas } from './canvas.ts'

/** What a line was drawn as. */
export type LineSort = 'straight' | 'curved' | 'bank' | 'trackway' | 'enclosure' | 'tramlines' | 'field edge'

/** A line as it was drawn. Pixels, from the upper left corner. */
export interface DrawnLine {
  readonly sort: LineSort
  /** Vertices of its middle, x and y in turn; of an enclosure the first comes again as the last. */
  readonly xy: readonly number[]
  readonly width: number
  /** In standard deviations of the ground's grain; below 0 for dark ones. */
  readonly contrast: number
  /** Stretches that are not seen, from and to, pixels along it. */
  readonly gaps: readonly (readonly [number, number])[]
}

/** A line of Gaussian section (full width at half depth `width`), `level` high, its gaps and ends softened over a pixel or so. */
export function drawPolyline({ side, values }: Canvas, { xy, width, gaps }: DrawnLine, level: number): void {
  const sigma = width / 2.355
  const reach = 4 * sigma
  // The nearest leg rules, so that corners are no deeper than the rest.
  const drawn = new Map<number, number>()
  let before = 0
  for (let i = 2; i < xy.length; i += 2) {
    const [x, y] = [xy[i - 2]!, xy[i - 1]!]
    const [dx, dy] = [xy[i]! - x, xy[i + 1]! - y]
    const length = Math.hypot(dx, dy)
    const low = (a: number, b: number): number => Math.max(0, Math.floor(Math.min(a, b) - reach))
    const high = (a: number, b: number): number => Math.min(side - 1, Math.ceil(Math.max(a, b) + reach))
    for (let row = low(y, y + dy); row <= high(y, y + dy); row++) {
      for (let column = low(x, x + dx); column <= high(x, x + dx); column++) {
        const [px, py] = [column + 0.5 - x, row + 0.5 - y]
        const along = Math.max(0, Math.min(1, (px * dx + py * dy) / (length * length)))
        const off = Math.hypot(px - along * dx, py - along * dy)
        if (off > reach) continue
        const here = Math.exp((-off * off) / (2 * sigma * sigma)) * shown(before + along * length, gaps)
        const at = row * side + column
        if (here > (drawn.get(at) ?? 0)) drawn.set(at, here)
      }
    }
    before += length
  }
  for (const [at, share] of drawn) values[at]! += level * share
}

function shown(along: number, gaps: DrawnLine['gaps']): number {
  let share = 1
  for (const [from, to] of gaps) share *= 1 / (1 + Math.exp(2 * Math.min(along - from, to - along)))
  return share
}

/** A step of the ground between two fields, right across, two pixels soft, and nothing on the line between them. */
export function drawStep(
  { side, values }: Canvas,
  { x, y, bearing }: { readonly x: number; readonly y: number; readonly bearing: number },
  level: number,
): void {
  const [ux, uy] = [Math.cos(bearing), Math.sin(bearing)]
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      const off = (row + 0.5 - y) * ux - (column + 0.5 - x) * uy
      values[row * side + column]! += level / (1 + Math.exp(-2 * off))
    }
  }
}

type Place = readonly [x: number, y: number]

export function straight([x, y]: Place, bearing: number, length: number): number[] {
  const [dx, dy] = [(length / 2) * Math.cos(bearing), (length / 2) * Math.sin(bearing)]
  return [x - dx, y - dy, x + dx, y + dy]
}

/** An arc of a circle or a wave, a vertex every three pixels. */
export function curved(random: Random, [x, y]: Place, bearing: number, length: number): number[] {
  const count = Math.ceil(length / 3)
  const arc = unit(random) < 0.5
  const radius = uniform(random, 60, 300) * (unit(random) < 0.5 ? -1 : 1)
  const [wave, height] = [uniform(random, 100, 220), uniform(random, 4, 12)]
  const out: number[] = []
  for (let i = 0; i <= count; i++) {
    const s = (i / count - 0.5) * length
    const [u, v] = arc
      ? [radius * Math.sin(s / radius), radius * (1 - Math.cos(s / radius))]
      : [s, height * Math.sin((2 * Math.PI * s) / wave)]
    out.push(
      x + u * Math.cos(bearing) - v * Math.sin(bearing),
      y + u * Math.sin(bearing) + v * Math.cos(bearing),
    )
  }
  return out
}

/** A line beside a line, `off` pixels to its right. Good for gentle curves only. */
export function beside(xy: readonly number[], off: number): number[] {
  const out: number[] = []
  for (let i = 0; i < xy.length; i += 2) {
    const [a, b] = [Math.max(0, i - 2), Math.min(xy.length - 2, i + 2)]
    const [dx, dy] = [xy[b]! - xy[a]!, xy[b + 1]! - xy[a + 1]!]
    const length = Math.hypot(dx, dy)
    out.push(xy[i]! - (off * dy) / length, xy[i + 1]! + (off * dx) / length)
  }
  return out
}

/** A rectangle with rounded corners, beginning in the middle of a side. */
export function rectangle(
  [x, y]: Place,
  bearing: number,
  { long, broad, corner }: { readonly long: number; readonly broad: number; readonly corner: number },
): number[] {
  const out: number[] = []
  const put = (u: number, v: number): void => {
    out.push(
      x + u * Math.cos(bearing) - v * Math.sin(bearing),
      y + u * Math.sin(bearing) + v * Math.cos(bearing),
    )
  }
  const [a, b] = [long / 2, broad / 2]
  put(0, -b)
  for (const [cx, cy, turn] of [
    [a - corner, corner - b, -90],
    [a - corner, b - corner, 0],
    [corner - a, b - corner, 90],
    [corner - a, corner - b, 180],
  ] as const)
    for (let step = 0; step <= 6; step++) {
      const angle = ((turn + step * 15) * Math.PI) / 180
      put(cx + corner * Math.cos(angle), cy + corner * Math.sin(angle))
    }
  put(0, -b)
  return out
}

export function lengthOf(xy: readonly number[]): number {
  let sum = 0
  for (let i = 2; i < xy.length; i += 2) sum += Math.hypot(xy[i]! - xy[i - 2]!, xy[i + 1]! - xy[i - 1]!)
  return sum
}
