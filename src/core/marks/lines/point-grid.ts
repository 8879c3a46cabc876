import { at, type LinePoints, pointStride } from './line-points.ts'

/** Points by squares, so that those about a place are found quickly. */
export interface PointGrid {
  /** Indices of the points that `near` found last. */
  readonly found: Int32Array
  /** Writes the index of every point in the squares that a circle of at most 3 pixels touches to `found`; gives how many. */
  near(x: number, y: number, reach: number): number
}

const cell = 4
/** More than there are: a pixel has one point at most, and nine squares, with what may have been shifted into them, have 174 pixels. */
const room = 256

/** Cost: 4 bytes for each square of 4 pixels over the points' bounds, and 4 a point. */
export function pointGrid(points: LinePoints): PointGrid {
  const count = points.length / pointStride
  let [wide, tall] = [0, 0]
  for (let i = 0; i < count; i++) {
    wide = Math.max(wide, points[i * pointStride + at.x]!)
    tall = Math.max(tall, points[i * pointStride + at.y]!)
  }
  const across = Math.floor(Math.max(0, wide) / cell) + 1
  const down = Math.floor(Math.max(0, tall) / cell) + 1
  const clamped = (value: number, most: number): number =>
    Math.max(0, Math.min(most - 1, Math.floor(value / cell)))
  const cellOf = (i: number): number =>
    clamped(points[i * pointStride + at.y]!, down) * across + clamped(points[i * pointStride + at.x]!, across)
  const starts = new Int32Array(across * down + 1)
  for (let i = 0; i < count; i++) starts[cellOf(i) + 1]!++
  for (let c = 0; c < across * down; c++) starts[c + 1]! += starts[c]!
  const next = starts.slice()
  const members = new Int32Array(count)
  for (let i = 0; i < count; i++) members[next[cellOf(i)]!++] = i
  const found = new Int32Array(room)
  return {
    found,
    near: (x, y, reach) => {
      const [left, right] = [clamped(x - reach, across), clamped(x + reach, across)]
      const bottom = clamped(y + reach, down)
      let count = 0
      for (let row = clamped(y - reach, down); row <= bottom; row++) {
        const end = starts[row * across + right + 1]!
        for (let m = starts[row * across + left]!; m < end; m++) found[count++] = members[m]!
      }
      return count
    },
  }
}
