import { polygonArea, ringArea } from '#core/geometry'

type Corner = [number, number]
/** Polygons as the server gives and takes them: rings closed, the outer one first. Metres in the survey's grid. */
export type Polygons = Corner[][][]

const flat = (ring: readonly Corner[]): Float64Array => Float64Array.from(ring.flat())

/** Area in square metres, holes taken off. */
export function areaOf(polygons: Polygons): number {
  return polygons.reduce((sum, rings) => sum + polygonArea({ rings: rings.map(flat) }), 0)
}

/** Rings as text, one corner a line, easting then northing to the centimetre, a blank line between rings. */
export function cornersText(polygons: Polygons): string {
  return polygons
    .flat()
    .map((ring) =>
      ring
        .slice(0, -1)
        .map(([e, n]) => `${tidy(e)} ${tidy(n)}`)
        .join('\n'),
    )
    .join('\n\n')
}

function tidy(value: number): string {
  return String(Number(value.toFixed(2)))
}

/** Even-odd test of a point against a closed ring. */
function isInside([x, y]: Corner, ring: readonly Corner[]): boolean {
  let inside = false
  for (let i = 0; i + 1 < ring.length; i += 1) {
    const [ax, ay] = ring[i]!
    const [bx, by] = ring[i + 1]!
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) inside = !inside
  }
  return inside
}

/** Rings put together: one that begins inside an earlier outer ring is a hole of it, any other begins a part. */
function nested(rings: readonly Corner[][]): Polygons {
  const parts: Polygons = []
  for (const ring of rings) {
    const around = parts.find((part) => isInside(ring[0]!, part[0]!))
    if (around) around.push(ring)
    else parts.push([ring])
  }
  return parts
}

export type CornersRead = { readonly polygons: Polygons } | { readonly fault: string }

/** Reads what `cornersText` writes and what people type: two numbers a line, apart by a space, comma or tab. */
export function polygonsFrom(text: string): CornersRead {
  const rings: Corner[][] = [[]]
  for (const [i, line] of text.split(/\r?\n/).entries()) {
    const tidyLine = line.trim()
    if (tidyLine === '') {
      if (rings.at(-1)!.length > 0) rings.push([])
      continue
    }
    const numbers = tidyLine.split(/[\s,;]+/).map(Number)
    if (numbers.length !== 2 || numbers.some((value) => !Number.isFinite(value)))
      return { fault: `Line ${i + 1} is not an easting and a northing, such as 571204.5 345678.0.` }
    rings.at(-1)!.push([numbers[0]!, numbers[1]!])
  }
  const full = rings.filter((ring) => ring.length > 0)
  if (full.length === 0) return { fault: 'Write at least three corners, one a line.' }
  for (const ring of full) {
    if (ring.length < 3) return { fault: 'Each outline needs at least three corners.' }
    ring.push([...ring[0]!])
    if (ringArea(flat(ring)) === 0) return { fault: 'An outline encloses no ground; set its corners apart.' }
  }
  return { polygons: nested(full) }
}
