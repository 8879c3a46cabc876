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
  const bad: BadTuple[] = []
  const pattern = separator === ',' ? /\S+/g : /\S[^\n]*/g
  for (const found of text.matchAll(pattern)) {
    const parts = found[0].trim().split(separator === ',' ? ',' : /\s+/)
    const lon = decimal(parts[0] ?? '')
    const lat = decimal(parts[1] ?? '')
    const reason = problem(lon, lat, found[0])
    if (reason === null) xyz.push([lon, lat, decimal(parts[2] ?? '')])
    else bad.push({ ...reason, linesAfter: text.slice(found.index).split('\n').length - 1 })
  }
  return { xyz, bad }
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
