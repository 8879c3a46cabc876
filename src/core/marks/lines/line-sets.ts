import type { LineLookAlike } from './line-candidate.ts'
import type { MeasuredLine } from './measured-line.ts'

/** A line with the way it runs from end to end. */
interface Run {
  readonly line: MeasuredLine
  readonly told: LineLookAlike | null
  /** Middle of its ends, bearing from the columns' direction towards the rows' (0 to pi), and distance between its ends. Pixels. */
  readonly x: number
  readonly y: number
  readonly bearing: number
  readonly span: number
}

/** Lines told to be of one kind that run the same way. */
interface LineSet {
  readonly kind: LineLookAlike
  readonly members: readonly Run[]
  readonly cos: number
  readonly sin: number
  /** At what distance it repeats, pixels; null where it does not. */
  readonly every: number | null
}

/** Lines of a set run the same way to this, radians. */
const sameBearing = (2 * Math.PI) / 180
/** A line is on another, or on a place where the set repeats, within this, pixels or this share of the distance. */
const onPlace = { pixels: 2.5, share: 0.06 }
/** A set goes on for this far beyond the lines that are told, pixels. */
const beyond = 400
const fewest = 3
/** Distances at which a set may repeat, pixels, how finely they are tried, and how well the members must agree. */
const [leastEvery, mostEvery, everyStep] = [12, 150, 0.25]
const agreement = 0.8
/** A line is straight where its length is no more than this many times the distance between its ends. */
const straightness = 1.03

/**
 * What lines are by the sets that others were told to be of: a piece that runs the same way as a set, and lies on one of its lines or where it would repeat, is of that set.
 * Null for all others. `told` is what each is known to be already.
 *
 * Method  members' offsets across the set's mean bearing, as phases of a distance: the one at which their resultant is greatest is where the set repeats (the circular mean; Mardia and Jupp, Directional Statistics).
 * Cost    lines times members, and members times 550 distances.
 */
export function setsOf(
  lines: readonly MeasuredLine[],
  told: readonly (LineLookAlike | null)[],
): (LineLookAlike | null)[] {
  const runs = lines.map((line, i) => runOf(line, told[i] ?? null))
  const sets = setsAmong(runs.flatMap((run) => (run?.told ? [run] : [])))
  return runs.map((run) => {
    if (run === null || run.told !== null) return null
    return sets.find((set) => isOf(run, set))?.kind ?? null
  })
}

/** Null for a line that is not straight. */
function runOf(line: MeasuredLine, told: LineLookAlike | null): Run | null {
  const { xy, length } = line
  const [fromX, fromY, toX, toY] = [xy[0]!, xy[1]!, xy.at(-2)!, xy.at(-1)!]
  const span = Math.hypot(toX - fromX, toY - fromY)
  if (length > straightness * span) return null
  const bearing = (Math.atan2(toY - fromY, toX - fromX) + Math.PI) % Math.PI
  return { line, told, x: (fromX + toX) / 2, y: (fromY + toY) / 2, bearing, span }
}

const turn = (a: number, b: number): number => {
  const off = Math.abs(a - b) % Math.PI
  return Math.min(off, Math.PI - off)
}

/** Longest first, each with those that run the same way and are told the same. */
function setsAmong(told: readonly Run[]): LineSet[] {
  const left = new Set(told.toSorted((a, b) => b.span - a.span))
  const sets: LineSet[] = []
  for (const first of left) {
    const members = [...left].filter(
      (run) =>
        run.told === first.told &&
        run.line.tone === first.line.tone &&
        turn(run.bearing, first.bearing) < sameBearing,
    )
    for (const member of members) left.delete(member)
    if (members.length < fewest) continue
    const { cos, sin } = meanWay(members)
    sets.push({ kind: first.told!, members, cos, sin, every: everyOf(members, cos, sin) })
  }
  return sets
}

/** Mean of bearings, which are the same after half a turn; long lines know theirs better, by the cube of their length. */
function meanWay(members: readonly Run[]): { readonly cos: number; readonly sin: number } {
  let [c, s] = [0, 0]
  for (const { bearing, span } of members) {
    c += span ** 3 * Math.cos(2 * bearing)
    s += span ** 3 * Math.sin(2 * bearing)
  }
  const bearing = Math.atan2(s, c) / 2
  return { cos: Math.cos(bearing), sin: Math.sin(bearing) }
}

function everyOf(members: readonly Run[], cos: number, sin: number): number | null {
  const across = members.map(({ x, y }) => y * cos - x * sin)
  let [every, most] = [null as number | null, agreement]
  for (let tried = mostEvery; tried >= leastEvery; tried -= everyStep) {
    const { length } = meanPhase(across, tried)
    if (length > most) [every, most] = [tried, length]
  }
  return every
}

function meanPhase(across: readonly number[], every: number): { readonly length: number } {
  let [c, s] = [0, 0]
  for (const value of across) {
    c += Math.cos((2 * Math.PI * value) / every)
    s += Math.sin((2 * Math.PI * value) / every)
  }
  return { length: Math.hypot(c, s) / across.length }
}

function isOf(run: Run, { members, cos, sin, every }: LineSet): boolean {
  if (members[0]!.line.tone !== run.line.tone) return false
  if (turn(run.bearing, Math.atan2(sin, cos)) > sameBearing + bearingSlack(run)) return false
  return members.some((member) => {
    const [dx, dy] = [run.x - member.x, run.y - member.y]
    const apart = Math.abs(dx * cos + dy * sin) - (run.span + member.span) / 2
    const across = Math.abs(dy * cos - dx * sin)
    if (apart > beyond || across > beyond) return false
    if (across <= onPlace.pixels) return true
    return every !== null && apart < 0 && isMultiple(across, every)
  })
}

/** An end is known to a pixel or so, which is more of an angle on a short line. */
function bearingSlack({ span }: Run): number {
  return Math.atan(1 / span)
}

function isMultiple(across: number, every: number): boolean {
  const times = Math.round(across / every)
  return times >= 1 && Math.abs(across - times * every) <= Math.min(onPlace.pixels, onPlace.share * every)
}
