/** Places of which those not yet taken are asked for the nearest. */
export interface NearestLeft {
  /** Index of the nearest place left; -1 when none is. */
  nearest(x: number, y: number): number
  take(index: number): void
}

/**
 * Places in square bins, about one a bin, searched in widening squares.
 *
 * Shape   interleaved pairs. Cost: about constant a question while places are spread out; when most are taken, bins that
 *         are empty are passed over one by one.
 */
export function nearestLeft(xy: Float64Array): NearestLeft {
  const count = xy.length >> 1
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity]
  for (let i = 0; i < xy.length; i += 2) {
    west = Math.min(west, xy[i]!)
    east = Math.max(east, xy[i]!)
    south = Math.min(south, xy[i + 1]!)
    north = Math.max(north, xy[i + 1]!)
  }
  const width = Math.max(east - west, 1e-6)
  const height = Math.max(north - south, 1e-6)
  const side = Math.max(Math.sqrt((width * height) / Math.max(1, count)), Math.max(width, height) / 2048)
  const columns = Math.floor(width / side) + 1
  const rows = Math.floor(height / side) + 1
  const last = new Int32Array(columns * rows).fill(-1)
  const previous = new Int32Array(count)
  const binOf = (i: number): number =>
    Math.floor((xy[2 * i + 1]! - south) / side) * columns + Math.floor((xy[2 * i]! - west) / side)
  for (let i = count - 1; i >= 0; i--) {
    previous[i] = last[binOf(i)]!
    last[binOf(i)] = i
  }
  let left = count
  const search = (x: number, y: number): number => {
    const column = Math.min(columns - 1, Math.max(0, Math.floor((x - west) / side)))
    const row = Math.min(rows - 1, Math.max(0, Math.floor((y - south) / side)))
    // Bins of the ring lie at least (ring - 1) sides off.
    let best = -1
    let least = Infinity
    for (let ring = 0; ring <= Math.max(columns, rows); ring++) {
      if (best >= 0 && Math.sqrt(least) <= (ring - 1) * side) break
      for (let r = Math.max(0, row - ring); r <= Math.min(rows - 1, row + ring); r++) {
        const whole = r === row - ring || r === row + ring
        for (let c = column - ring; c <= column + ring; c += whole ? 1 : Math.max(1, 2 * ring)) {
          if (c < 0 || c >= columns) continue
          for (let i = last[r * columns + c]!; i >= 0; i = previous[i]!) {
            const square = (xy[2 * i]! - x) ** 2 + (xy[2 * i + 1]! - y) ** 2
            if (square < least) {
              least = square
              best = i
            }
          }
        }
      }
    }
    return best
  }
  return {
    nearest: (x, y) => (left === 0 ? -1 : search(x, y)),
    take: (index) => {
      const bin = binOf(index)
      let at = last[bin]!
      if (at === index) last[bin] = previous[index]!
      else while (at >= 0 && previous[at] !== index) at = previous[at]!
      if (at !== index && at >= 0) previous[at] = previous[index]!
      left--
    },
  }
}
