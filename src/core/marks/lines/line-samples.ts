/** Distance between samples along a line, pixels. */
export const sampleStep = 2

/** A place on a line, and which way it runs there. */
export interface LineSample<Line> {
  readonly x: number
  readonly y: number
  readonly cos: number
  readonly sin: number
  readonly line: Line
}

export function samplesOf<Line extends { readonly xy: Float64Array }>(line: Line): LineSample<Line>[] {
  const { xy } = line
  const out: LineSample<Line>[] = []
  for (let i = 2; i < xy.length; i += 2) {
    const [x, y] = [xy[i - 2]!, xy[i - 1]!]
    const [dx, dy] = [xy[i]! - x, xy[i + 1]! - y]
    const length = Math.hypot(dx, dy)
    if (length === 0) continue
    const count = Math.max(1, Math.round(length / sampleStep))
    for (let n = 0; n < count; n++) {
      const share = (n + 0.5) / count
      out.push({ x: x + share * dx, y: y + share * dy, cos: dx / length, sin: dy / length, line })
    }
  }
  return out
}

/** Samples by squares as wide as is looked for about a place. */
export class SampleGrid<Line> {
  readonly #reach: number
  readonly #cells = new Map<number, LineSample<Line>[]>()

  constructor(reach: number) {
    this.#reach = reach
  }

  #key(x: number, y: number): number {
    return Math.floor(x / this.#reach) * 1_048_576 + Math.floor(y / this.#reach)
  }

  add(sample: LineSample<Line>): void {
    const key = this.#key(sample.x, sample.y)
    const there = this.#cells.get(key)
    if (there) there.push(sample)
    else this.#cells.set(key, [sample])
  }

  /** Calls with all within the reach, and some beyond. */
  near(place: { readonly x: number; readonly y: number }, take: (sample: LineSample<Line>) => void): void {
    this.some(place, (sample) => {
      take(sample)
      return false
    })
  }

  /** Whether something holds of any within the reach, or some way beyond. */
  some(
    { x, y }: { readonly x: number; readonly y: number },
    holds: (sample: LineSample<Line>) => boolean,
  ): boolean {
    for (let i = -1; i <= 1; i++)
      for (let j = -1; j <= 1; j++) {
        const cell = this.#cells.get(this.#key(x + i * this.#reach, y + j * this.#reach))
        if (cell?.some(holds)) return true
      }
    return false
  }
}
