import { type Bounds, boundsOf, type Polygon, pointInPolygon, ringArea } from '#core/geometry'

/** Vertices that may still be looked at to tell which ring lies in which. A file that needs more than 3e8 is made to be slow. */
export interface RingWork {
  left: number
}

export interface RingGroups {
  readonly polygons: Polygon[]
  /** What was made of rings that do not wind as the format has it; null where all did. */
  readonly note: string | null
}

/**
 * Sorts the rings of one shape into polygons: rings that run clockwise are ground, the others holes in the smallest
 * ground that they lie in (ESRI Shapefile Technical Description, July 1998, page 8). Where none runs clockwise, a ring in an even
 * number of others is ground. A hole that lies in no ground is ground of its own. Null where `work` runs out.
 *
 * `rings` are closed and enclose ground. Cost: none to speak of for one outer ring; else holes times outer rings, and the
 * vertices of those whose bounds hold the hole.
 */
export function ringsToPolygons(rings: readonly Float64Array[], work: RingWork): RingGroups | null {
  const entries = rings.map((ring): Entry => ({ ring, bounds: boundsOf(ring), area: ringArea(ring) }))
  const outers = entries.filter(({ area }) => area < 0)
  const holes = entries.filter(({ area }) => area > 0)
  if (outers.length === 0) return byDepth(entries, work)
  if (outers.length === 1) {
    return { polygons: [{ rings: [...outers, ...holes].map(({ ring }) => ring) }], note: null }
  }
  const inside = new Map(outers.map((outer) => [outer, [outer.ring]]))
  const smallestFirst = outers.toSorted(bySize)
  const orphans: Float64Array[] = []
  for (const hole of holes) {
    const around = smallestAround(hole, smallestFirst, work)
    if (work.left < 0) return null
    if (around === null) orphans.push(hole.ring)
    else inside.get(around)!.push(hole.ring)
  }
  const polygons = [...inside.values(), ...orphans.map((ring) => [ring])].map((group) => ({ rings: group }))
  const note = orphans.length === 0 ? null : 'a hole lies in no ground; it was read as ground'
  return { polygons, note }
}

interface Entry {
  readonly ring: Float64Array
  readonly bounds: Bounds
  readonly area: number
}

function byDepth(entries: readonly Entry[], work: RingWork): RingGroups | null {
  if (entries.length === 1) return { polygons: [{ rings: [entries[0]!.ring] }], note: null }
  const depth = new Map<Entry, number>()
  for (const entry of entries) {
    let depthOfEntry = 0
    for (const other of entries) {
      if (other !== entry && liesIn(entry, other, work)) depthOfEntry++
      if (work.left < 0) return null
    }
    depth.set(entry, depthOfEntry)
  }
  const outers = entries.filter((entry) => depth.get(entry)! % 2 === 0)
  const inside = new Map(outers.map((outer) => [outer, [outer.ring]]))
  const smallestFirst = outers.toSorted(bySize)
  for (const hole of entries) {
    if (depth.get(hole)! % 2 === 0) continue
    const around = smallestAround(hole, smallestFirst, work)
    if (around !== null) inside.get(around)!.push(hole.ring)
  }
  if (work.left < 0) return null
  const polygons = [...inside.values()].map((rings) => ({ rings }))
  return {
    polygons,
    note: 'no ring runs clockwise, as ground should; which are holes was told by what lies in what',
  }
}

const bySize = (a: Entry, b: Entry): number => Math.abs(a.area) - Math.abs(b.area)

/** The first of the outer rings, smallest first, that the hole lies in. */
function smallestAround(hole: Entry, outers: readonly Entry[], work: RingWork): Entry | null {
  for (const outer of outers) {
    if (liesIn(hole, outer, work)) return outer
    if (work.left < 0) return null
  }
  return null
}

/** By the middles of three of its sides, two of which must lie inside, since corners may touch the ring around. */
function liesIn(hole: Entry, outer: Entry, work: RingWork): boolean {
  work.left -= 1
  const [a, b] = [hole.bounds, outer.bounds]
  if (a.minX < b.minX || a.maxX > b.maxX || a.minY < b.minY || a.maxY > b.maxY) return false
  const { ring } = hole
  const sides = ring.length / 2 - 1
  const polygon: Polygon = { rings: [outer.ring] }
  let votes = 0
  for (const side of [0, Math.floor(sides / 3), Math.floor((2 * sides) / 3)]) {
    const i = 2 * side
    work.left -= outer.ring.length / 2
    const [x, y] = [(ring[i]! + ring[i + 2]!) / 2, (ring[i + 1]! + ring[i + 3]!) / 2]
    if (pointInPolygon(x, y, polygon)) votes++
  }
  return votes >= 2
}
