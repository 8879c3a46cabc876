import type { FaultCode } from '#core/faults'
import { decimal } from '#formats/decimal'
import { quoted } from '#formats/fault-list'

/** One tuple that is no position, and how many line breaks of the text come after it. */
export interface BadTuple {
  readonly code: FaultCode
  readonly reason: string
  readonly linesAfter: number
}

/** Longitude, latitude, and height (NaN where there is none) of each tuple that is a position. */
export interface Tuples {
  readonly xyz: readonly (readonly [number, number, number])[]
  readonly bad: readonly BadTuple[]
}

/** Tuples `lon,lat[,height]` parted by white space, as KML writes them. Cost: one pass. */
export function tuples(text: string, separator: ',' | ' '): Tuples {
  const xyz: [number, number, number][] = []
  const found: { code: FaultCode; reason: string; linesBefore: number }[] = []
  const lines = new LineCount(text)
  const pattern = separator === ',' ? /\S+/g : /\S[^\n]*/g
  for (const match of text.matchAll(pattern)) {
    const parts = match[0].trim().split(separator === ',' ? ',' : /\s+/)
    const lon = decimal(parts[0] ?? '')
    const lat = decimal(parts[1] ?? '')
    const trouble = problem(lon, lat, match[0])
    if (trouble === null) xyz.push([lon, lat, decimal(parts[2] ?? '')])
    else found.push({ ...trouble, linesBefore: lines.before(match.index) })
  }
  if (found.length === 0) return { xyz, bad: [] }
  const all = lines.before(text.length)
  const bad = found.map(({ code, reason, linesBefore }) => ({ code, reason, linesAfter: all - linesBefore }))
  return { xyz, bad }
}

/** Counts line breaks up to rising places of one text; all calls together take one pass. */
class LineCount {
  readonly #text: string
  #at = 0
  #count = 0

  constructor(text: string) {
    this.#text = text
  }

  before(place: number): number {
    let next = this.#text.indexOf('\n', this.#at)
    while (next >= 0 && next < place) {
      this.#count++
      this.#at = next + 1
      next = this.#text.indexOf('\n', this.#at)
    }
    return this.#count
  }
}

function problem(lon: number, lat: number, text: string): { code: FaultCode; reason: string } | null {
  if (Number.isNaN(lon) || Number.isNaN(lat)) {
    return { code: 'bad-value', reason: `${quoted(text)} is no longitude and latitude` }
  }
  if (Math.abs(lon) <= 180 && Math.abs(lat) <= 90) return null
  return Math.abs(lon) <= 90 && Math.abs(lat) <= 180
    ? { code: 'coordinates-swapped', reason: `in ${quoted(text)} latitude and longitude look swapped` }
    : { code: 'coordinate-out-of-range', reason: `${quoted(text)} lies outside of longitude and latitude` }
}
