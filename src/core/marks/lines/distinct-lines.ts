import type { MeasuredLine } from './measured-line.ts'

/** Of lines that run along one another for half of the lesser one's length only the better is kept. */
const sharedLength = 0.5
/** The flanks of a line look like lines of the other tone: of less than this share of its contrast they are taken for flanks. */
const flank = 0.6
/** Distance between samples along a line, pixels. */
const sampleStep = 2

interface Sample {
  readonly x: number
  readonly y: number
  readonly cos: number
  readonly sin: number
  readonly line: MeasuredLine
}

/** Lines best first, without those that are the same ground as a better one. */
export function distinctLines(lines: readonly MeasuredLine[]): MeasuredLine[] {
  const cell = Math.max(8, ...lines.map(({ width }) => 2 * width + 2))
  const cells = new Map<number, Sample[]>()
  const key = (x: number, y: number): number => Math.floor(x / cell) * 1_048_576 + Math.floor(y / cell)
  const kept: MeasuredLine[] = []
  for (const line of lines.toSorted((a, b) => b.logOdds - a.logOdds)) {
    const own = samplesOf(line)
    let shared = 0
    for (const sample of own) {
      if (covered(sample, cell, (x, y) => cells.get(key(x, y)) ?? [])) shared++
    }
    if (shared >= sharedLength * own.length) continue
    kept.push(line)
    for (const sample of own) {
      const at = key(sample.x, sample.y)
      const there = cells.get(at)
      if (there) there.push(sample)
      else cells.set(at, [sample])
    }
  }
  return kept
}

function covered(
  { x, y, cos, sin, line }: Sample,
  cell: number,
  at: (x: number, y: number) => readonly Sample[],
): boolean {
  for (let i = -1; i <= 1; i++)
    for (let j = -1; j <= 1; j++)
      for (const other of at(x + i * cell, y + j * cell)) {
        const [dx, dy] = [x - other.x, y - other.y]
        if (Math.abs(other.cos * cos + other.sin * sin) < 0.8) continue
        if (Math.abs(dx * other.cos + dy * other.sin) > sampleStep + 1) continue
        const across = Math.abs(dy * other.cos - dx * other.sin)
        const wider = Math.max(line.width, other.line.width)
        if (other.line.tone === line.tone ? across < 0.6 * wider + 1 : isFlank(line, other.line, across))
          return true
      }
  return false
}

function isFlank(line: MeasuredLine, better: MeasuredLine, across: number): boolean {
  return across < 1.8 * better.width + 2 && line.contrast < flank * better.contrast
}

function samplesOf(line: MeasuredLine): Sample[] {
  const { xy } = line
  const out: Sample[] = []
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
