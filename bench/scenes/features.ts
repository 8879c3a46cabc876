import { type Random, uniform } from '#core/random'
import { type Canvas, stamp } from './canvas.ts'

/** A ring as it was drawn. Pixels, from the upper left corner; a missing arc in radians from east, turning downwards. */
export interface DrawnRing {
  readonly x: number
  readonly y: number
  readonly radius: number
  readonly width: number
  readonly contrast: number
  /** Share of the arc that is missing. */
  readonly missing: number
  readonly gaps: readonly { readonly from: number; readonly length: number }[]
  /** Shorter over longer diameter. */
  readonly ellipticity: number
  readonly turn: number
}

const whole = 2 * Math.PI
const turned = (angle: number): number => ((angle % whole) + whole) % whole

/** Soft ends, so that a broken ring has no corners that a filter would like. */
function seen(angle: number, radius: number, { gaps }: DrawnRing): number {
  let share = 1
  for (const { from, length } of gaps) {
    const into = turned(angle - from)
    const inside = Math.min(into, length - into) * radius
    const outside = Math.min(whole - into, into - length) * radius
    share *= into <= length ? 0.5 * Math.exp(-inside) : 1 - 0.5 * Math.exp(-outside)
  }
  return share
}

/** A ditch of Gaussian section (full width at half depth `width`), `level` deep. */
export function drawRing(canvas: Canvas, ring: DrawnRing, level: number): void {
  const { x, y, radius, width, ellipticity, turn } = ring
  const sigma = width / 2.355
  const [longer, shorter] = [radius / Math.sqrt(ellipticity), radius * Math.sqrt(ellipticity)]
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)]
  stamp(canvas, [x, y, longer + 3 * width], (dx, dy) => {
    const [u, v] = [dx * cos + dy * sin, dy * cos - dx * sin]
    const angle = Math.atan2(v / shorter, u / longer)
    const edge = Math.hypot(longer * Math.cos(angle), shorter * Math.sin(angle))
    const off = Math.hypot(u, v) - edge
    if (Math.abs(off) > 4 * sigma) return 0
    return level * Math.exp((-off * off) / (2 * sigma * sigma)) * seen(angle + turn, radius, ring)
  })
}

/** A soft-edged disc: a pond, a tree crown, a damp hollow. `softness` is the width of its edge, pixels. */
export function drawDisc(
  canvas: Canvas,
  [x, y, radius]: readonly [number, number, number],
  level: number,
  softness: number,
): void {
  stamp(canvas, [x, y, radius + 4 * softness], (dx, dy) => {
    const off = (Math.hypot(dx, dy) - radius) / softness
    return off > 8 ? 0 : level / (1 + Math.exp(2 * off))
  })
}

/** A Gaussian blob. */
export function drawBlob(
  canvas: Canvas,
  [x, y, sigma]: readonly [number, number, number],
  level: number,
): void {
  stamp(canvas, [x, y, 4 * sigma], (dx, dy) => level * Math.exp(-(dx * dx + dy * dy) / (2 * sigma * sigma)))
}

/** A straight line of Gaussian section through (x, y), of half length `reach`. */
export function drawLine(
  canvas: Canvas,
  line: { x: number; y: number; bearing: number; reach: number; width: number },
  level: number,
): void {
  const { side, values } = canvas
  const sigma = line.width / 2.355
  const [ux, uy] = [Math.cos(line.bearing), Math.sin(line.bearing)]
  for (let row = 0; row < side; row++) {
    const dy = row + 0.5 - line.y
    // The columns that come within 4 sigma of the line in this row.
    const middle = Math.abs(uy) < 1e-6 ? Number.NaN : line.x + (dy * ux) / uy
    const half = Math.abs(uy) < 1e-6 ? Infinity : (4 * sigma) / Math.abs(uy)
    const left = Number.isNaN(middle) ? 0 : Math.max(0, Math.floor(middle - half))
    const right = Number.isNaN(middle) ? side - 1 : Math.min(side - 1, Math.ceil(middle + half))
    for (let column = left; column <= right; column++) {
      const dx = column + 0.5 - line.x
      const off = dy * ux - dx * uy
      if (Math.abs(off) > 4 * sigma || Math.abs(dx * ux + dy * uy) > line.reach) continue
      values[row * side + column]! += level * Math.exp((-off * off) / (2 * sigma * sigma))
    }
  }
}

/** Pairs of wheel lines at even distances over a belt of ground. */
export function drawTramlines(random: Random, canvas: Canvas, level: number): void {
  const { side } = canvas
  const bearing = uniform(random, 0, Math.PI)
  const [x, y] = [uniform(random, 0.2, 0.8) * side, uniform(random, 0.2, 0.8) * side]
  const [apart, gauge] = [uniform(random, 70, 130), uniform(random, 7, 11)]
  const reach = uniform(random, 0.2, 0.5) * side
  const width = uniform(random, 1.8, 3)
  for (let pair = -3; pair <= 3; pair++) {
    for (const wheel of [-gauge / 2, gauge / 2]) {
      const off = pair * apart + wheel
      const place = { x: x - off * Math.sin(bearing), y: y + off * Math.cos(bearing) }
      drawLine(canvas, { ...place, bearing, reach, width }, level)
    }
  }
}

/** A field edge: a line right across, and a step of the ground on one side of it. */
export function drawBoundary(random: Random, canvas: Canvas, level: number): void {
  const { side, values } = canvas
  const bearing = uniform(random, 0, Math.PI)
  const place = { x: uniform(random, 0.05, 0.95) * side, y: uniform(random, 0.05, 0.95) * side }
  const width = uniform(random, 2, 6)
  drawLine(canvas, { ...place, bearing, reach: 2 * side, width }, level)
  const step = uniform(random, -1, 1) * level * 0.6
  const [ux, uy] = [Math.cos(bearing), Math.sin(bearing)]
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      const off = (row + 0.5 - place.y) * ux - (column + 0.5 - place.x) * uy
      if (off > 0) values[row * side + column]! += step * Math.min(1, off / 2)
    }
  }
}
