import { type Bounds, emptyBounds, joinBounds } from '#core/geometry'
import { eachSegment, type Shape, shapeBounds } from './shape.ts'

/** Segments of many shapes in square bins, each in all bins that it comes near to within the buffer. */
export interface ConstraintIndex {
  readonly shapes: readonly Shape[]
  readonly bounds: readonly Bounds[]
  /** Four numbers a segment, and the shape it is of. */
  readonly ends: Float64Array
  readonly owner: Uint32Array
  /** Calls back once for each segment that may lie within the buffer of the one given. */
  near(ax: number, ay: number, bx: number, by: number, visit: (segment: number) => void): void
  /** Shapes whose bounds hold a place. */
  around(x: number, y: number): number[]
}

const mostBinsAlong = 1024

/**
 * Cost: linear in segments and in the bins that their surroundings cover.
 */
export function constraintIndex(shapes: readonly Shape[], bufferM: number): ConstraintIndex {
  const list: number[] = []
  const owners: number[] = []
  shapes.forEach((shape, s) => {
    eachSegment(shape, (ax, ay, bx, by) => {
      if (![ax, ay, bx, by].every(Number.isFinite)) return
      list.push(ax, ay, bx, by)
      owners.push(s)
    })
  })
  const ends = Float64Array.from(list)
  const bounds = shapes.map(shapeBounds)
  const all = bounds.reduce(joinBounds, emptyBounds)
  const bins = binsOver(all, bufferM, owners.length)
  const start = new Uint32Array(bins.columns * bins.rows + 1)
  const each = (visit: (bin: number, segment: number) => void): void => {
    for (let e = 0; e < owners.length; e++)
      bins.over(ends[4 * e]!, ends[4 * e + 1]!, ends[4 * e + 2]!, ends[4 * e + 3]!, (bin) => visit(bin, e))
  }
  each((bin) => start[bin + 1]!++)
  for (let b = 0; b + 1 < start.length; b++) start[b + 1]! += start[b]!
  const held = new Uint32Array(start.at(-1)!)
  const filled = start.slice()
  each((bin, e) => {
    held[filled[bin]!++] = e
  })
  const seen = new Float64Array(owners.length)
  let question = 0
  const coarse = coarseBounds(bounds, all)
  return {
    shapes,
    bounds,
    ends,
    owner: Uint32Array.from(owners),
    near: (ax, ay, bx, by, visit) => {
      question++
      bins.over(ax, ay, bx, by, (bin) => {
        for (let k = start[bin]!; k < start[bin + 1]!; k++) {
          if (seen[held[k]!] === question) continue
          seen[held[k]!] = question
          visit(held[k]!)
        }
      })
    },
    around: coarse,
  }
}

interface Bins {
  readonly columns: number
  readonly rows: number
  /** The bins that a segment's surroundings within half the buffer touch: two segments within the buffer share one. */
  over(ax: number, ay: number, bx: number, by: number, visit: (bin: number) => void): void
}

function binsOver(all: Bounds, bufferM: number, count: number): Bins {
  const width = Math.max(all.maxX - all.minX, 1) + 2 * bufferM
  const height = Math.max(all.maxY - all.minY, 1) + 2 * bufferM
  const side = Math.max(
    Math.sqrt((width * height) / Math.max(1, count)),
    Math.max(width, height) / mostBinsAlong,
    bufferM / 4,
  )
  const west = all.minX - bufferM
  const south = all.minY - bufferM
  const columns = Math.floor(width / side) + 1
  const rows = Math.floor(height / side) + 1
  const margin = bufferM / 2 + side * 1e-6
  const within = (at: number, most: number): number => Math.min(most - 1, Math.max(0, at))
  const over: Bins['over'] = (ax, ay, bx, by, visit) => {
    const low = Math.min(ay, by)
    const high = Math.max(ay, by)
    const firstRow = Math.floor((low - margin - south) / side)
    const lastRow = Math.floor((high + margin - south) / side)
    const slope = ay === by ? 0 : (bx - ax) / (by - ay)
    for (let r = Math.max(0, firstRow); r <= Math.min(rows - 1, lastRow); r++) {
      // The stretch of the segment within this row and its surroundings.
      const from = Math.min(high, Math.max(low, south + r * side - margin))
      const to = Math.min(high, Math.max(low, south + (r + 1) * side + margin))
      const atFrom = ay === by ? ax : ax + (from - ay) * slope
      const atTo = ay === by ? bx : ax + (to - ay) * slope
      const first = Math.floor((Math.min(atFrom, atTo) - margin - west) / side)
      const last = Math.floor((Math.max(atFrom, atTo) + margin - west) / side)
      if (last < 0 || first >= columns) continue
      for (let c = within(first, columns); c <= within(last, columns); c++) visit(r * columns + c)
    }
  }
  return { columns, rows, over }
}

/** Bounds of shapes in a few bins, to find those around a place. */
function coarseBounds(bounds: readonly Bounds[], all: Bounds): (x: number, y: number) => number[] {
  const along = Math.max(1, Math.min(64, Math.ceil(Math.sqrt(bounds.length))))
  const width = Math.max(all.maxX - all.minX, 1e-9)
  const height = Math.max(all.maxY - all.minY, 1e-9)
  const column = (x: number): number =>
    Math.min(along - 1, Math.max(0, Math.floor(((x - all.minX) / width) * along)))
  const row = (y: number): number =>
    Math.min(along - 1, Math.max(0, Math.floor(((y - all.minY) / height) * along)))
  const bins = Array.from({ length: along * along }, (): number[] => [])
  bounds.forEach(({ minX, minY, maxX, maxY }, s) => {
    if (!(maxX >= minX)) return
    for (let r = row(minY); r <= row(maxY); r++)
      for (let c = column(minX); c <= column(maxX); c++) bins[r * along + c]!.push(s)
  })
  return (x, y) =>
    (bins[row(y) * along + column(x)] ?? []).filter((s) => {
      const { minX, minY, maxX, maxY } = bounds[s]!
      return x >= minX && x <= maxX && y >= minY && y <= maxY
    })
}
