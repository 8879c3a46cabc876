import type { FaultCode } from '#core/faults'
import { type Polygon, ringArea } from '#core/geometry'
import { type BadTuple, tuples } from './coordinates.ts'

/** One fix of a gx:Track: a time, a position, or only one of them. */
export interface TimedLine {
  readonly when: string[]
  readonly where: ([number, number, number] | null)[]
  /** Columns of gx:SimpleArrayData, by name. */
  readonly series: Map<string, string[]>
}

export type Line = { readonly xyz: Tuplist } | TimedLine
type Tuplist = readonly (readonly [number, number, number])[]
type Report = (code: FaultCode, text: string, linesAfter: number) => void

/** What is gathered of one Placemark until it closes. */
export class Placemark {
  name: string | null = null
  description: string | null = null
  /** As the TimeStamp gives it. */
  time: string | null = null
  readonly texts = new Map<string, string>()
  readonly points: (readonly [number, number, number])[] = []
  readonly lines: Line[] = []
  readonly polygons: Polygon[] = []
  /** Geometries that were there but could not be used; each has been reported. */
  rejected = 0
  readonly line: number
  #rings: Float64Array[] = []
  #ringBad = false
  #ringWanted: 'outer' | 'inner' | null = null
  #track: TimedLine | null = null

  constructor(line: number) {
    this.line = line
  }

  get called(): string {
    return this.name === null || this.name === '' ? 'A Placemark' : `Placemark “${this.name.slice(0, 40)}”`
  }

  startPolygon(): void {
    this.#rings = []
    this.#ringBad = false
  }

  startBoundary(which: 'outer' | 'inner' | null): void {
    this.#ringWanted = which
  }

  startTrack(): void {
    this.#track = { when: [], where: [], series: new Map() }
  }

  /** A text of coordinates, with the element that holds it. */
  coordinates(of: string, text: string, report: Report): void {
    const found = tuples(text, ',')
    if (of === 'LinearRing' && this.#ringWanted !== null) {
      this.#ring(found.xyz, found.bad, report)
      return
    }
    for (const { code, reason, linesAfter } of found.bad) {
      report(code, `${this.called}: a position was left out, since ${reason}.`, linesAfter)
    }
    this.rejected += found.bad.length
    const first = found.xyz[0]
    if (first === undefined) return
    if (of === 'Point') this.points.push(first)
    else this.lines.push({ xyz: found.xyz })
  }

  when(text: string): void {
    this.#track?.when.push(text)
  }

  coord(text: string, report: Report): void {
    if (this.#track === null) return
    const { xyz, bad } = tuples(text, ' ')
    this.#track.where.push(xyz[0] === undefined ? null : [...xyz[0]])
    const [problem] = bad
    if (problem !== undefined) {
      this.rejected++
      report(problem.code, `${this.called}: a fix was left out, since ${problem.reason}.`, 0)
    }
  }

  value(series: string, text: string): void {
    const values = this.#track?.series.get(series)
    if (values === undefined) this.#track?.series.set(series, [text])
    else values.push(text)
  }

  endTrack(): void {
    if (this.#track !== null && this.#track.where.length > 0) this.lines.push(this.#track)
    this.#track = null
  }

  endPolygon(report: Report): void {
    const [outer] = this.#rings
    if (outer === undefined || this.#ringBad) return
    if (ringArea(outer) !== 0) this.polygons.push({ rings: this.#rings })
    else this.#leaveOut('area-invalid', 'it encloses no ground', 0, report)
  }

  /** One ring: any position that cannot be read would change its shape, so it costs the polygon. Open rings are closed. */
  #ring(xyz: Tuplist, bad: readonly BadTuple[], report: Report): void {
    const [problem] = bad
    const closed = closedRing(xyz)
    if (problem !== undefined) this.#leaveOut(problem.code, problem.reason, problem.linesAfter, report)
    else if (closed === null) this.#leaveOut('area-invalid', 'a ring has fewer than three corners', 0, report)
    else if (this.#ringWanted === 'outer') this.#rings.unshift(closed)
    else this.#rings.push(closed)
  }

  #leaveOut(code: FaultCode, reason: string, linesAfter: number, report: Report): void {
    report(code, `${this.called}: a polygon was left out, since ${reason}.`, linesAfter)
    this.#ringBad = true
    this.rejected++
  }
}

function closedRing(xyz: Tuplist): Float64Array | null {
  const xy: number[] = []
  for (const [x, y] of xyz) xy.push(x, y)
  const n = xy.length
  if (n >= 2 && (xy[0] !== xy[n - 2] || xy[1] !== xy[n - 1])) xy.push(xy[0]!, xy[1]!)
  return xy.length < 8 ? null : Float64Array.from(xy)
}
