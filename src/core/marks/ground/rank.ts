/**
 * The value that would stand at `rank` (from 0) if all were sorted; changes their order. Hoare 1961, "Algorithm 65: Find", CACM 4, 321.
 * Cost: a few passes on average, where sorting takes the logarithm of their number.
 */
export function valueOfRank(values: Float64Array, rank: number): number {
  let low = 0
  let high = values.length - 1
  while (low < high) {
    const pivot = values[(low + high) >> 1]!
    let i = low
    let j = high
    while (i <= j) {
      while (values[i]! < pivot) i++
      while (values[j]! > pivot) j--
      if (i <= j) {
        const held = values[i]!
        values[i] = values[j]!
        values[j] = held
        i++
        j--
      }
    }
    if (rank <= j) high = j
    else if (rank >= i) low = i
    else return values[rank]!
  }
  return values[rank]!
}
