import { type LineSample, SampleGrid, sampleStep, samplesOf } from './line-samples.ts'
import type { MeasuredLine } from './measured-line.ts'

/** Of lines that run along one another for half of the lesser one's length only the better is kept. */
const sharedLength = 0.5
/** The flanks of a line look like lines of the other tone: of less than this share of its contrast they are taken for flanks. */
const flank = 0.6
/** Lines best first, without those that are the same ground as a better one. */
export function distinctLines(lines: readonly MeasuredLine[]): MeasuredLine[] {
  const reach = Math.max(8, ...lines.map(({ width }) => 2 * width + 2))
  const grid = new SampleGrid<MeasuredLine>(reach)
  const kept: MeasuredLine[] = []
  for (const line of lines.toSorted((a, b) => b.logOdds - a.logOdds)) {
    const own = samplesOf(line)
    if (isTaken(own, grid)) continue
    kept.push(line)
    for (const sample of own) grid.add(sample)
  }
  return kept
}

function isTaken(own: readonly LineSample<MeasuredLine>[], grid: SampleGrid<MeasuredLine>): boolean {
  const enough = sharedLength * own.length
  let shared = 0
  for (let n = 0; n < own.length && shared < enough && shared + own.length - n >= enough; n++)
    if (grid.some(own[n]!, (other) => isSame(own[n]!, other))) shared++
  return shared >= enough
}

/** Whether a better line runs along a place of a line so near that it is the same, or its flank. */
function isSame(
  { x, y, cos, sin, line }: LineSample<MeasuredLine>,
  other: LineSample<MeasuredLine>,
): boolean {
  const [dx, dy] = [x - other.x, y - other.y]
  if (Math.abs(other.cos * cos + other.sin * sin) < 0.8) return false
  if (Math.abs(dx * other.cos + dy * other.sin) > sampleStep + 1) return false
  const across = Math.abs(dy * other.cos - dx * other.sin)
  const wider = Math.max(line.width, other.line.width)
  return other.line.tone === line.tone ? across < 0.6 * wider + 1 : isFlank(line, other.line, across)
}

function isFlank(line: MeasuredLine, better: MeasuredLine, across: number): boolean {
  return across < 1.8 * better.width + 2 && line.contrast < flank * better.contrast
}
