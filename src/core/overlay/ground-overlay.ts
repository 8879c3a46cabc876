import { SurveyError } from '#core/faults'
import { type Bounds, boundsOf, type Polygon } from '#core/geometry'
import type { Address, Geos } from './geos.ts'

const [polygonKind, multiPolygonKind, collectionKind] = [3, 6, 7]
/** Chords of a quarter circle about a corner: the buffer then falls short by less than half a hundredth of its width. */
const quadrantSegments = 16

/**
 * Exact sums of ground with ground, by GEOS: one ground without another, ground grown or shrunk by a distance.
 *
 * CRS     planar, metres; all polygons of one call in one grid.
 * Method  overlay with full precision. What crosses itself is first mended by the even-odd rule; rings that enclose nothing and polygons with a
 *         corner without a place are left out.
 * Cost    about linear in corners times its logarithm. Each geometry is given back before a call ends: the memory of GEOS does not grow.
 * Source  GEOS, handed in: docs/decisions/0006-geos-for-overlay.md
 */
export class GroundOverlay {
  readonly #geos: Geos
  /** What is to be given back when the call that made it ends. */
  #made: Address[] = []

  constructor(geos: Geos) {
    this.#geos = geos
  }

  /**
   * Ground without parts: what lies in both is gone. Polygons of the ground that no part comes near are given back as they are.
   * Faults: SurveyError('area-invalid') where GEOS cannot tell.
   */
  without(ground: readonly Polygon[], parts: readonly Polygon[]): Polygon[] {
    return ground.flatMap((polygon) => {
      const bounds = boundsOf(polygon.rings[0] ?? new Float64Array(0))
      const near = parts.filter(({ rings: [outer] }) => outer && meets(boundsOf(outer), bounds))
      if (near.length === 0) return [polygon]
      return this.#call(() => {
        const taken = this.#keep(this.#geos.GEOSUnaryUnion(this.#sound(near)))
        return this.#polygonsOf(this.#keep(this.#geos.GEOSDifference(this.#sound([polygon]), taken)))
      })
    })
  }

  /** All ground within some metres of polygons; below 0 only what lies farther than that from their edge. Faults as `without`. */
  grown(polygons: readonly Polygon[], metres: number): Polygon[] {
    return this.#call(() =>
      this.#polygonsOf(this.#keep(this.#geos.GEOSBuffer(this.#sound(polygons), metres, quadrantSegments))),
    )
  }

  #call<Result>(work: () => Result): Result {
    try {
      return work()
    } finally {
      for (const address of this.#made) this.#geos.GEOSGeom_destroy(address)
      this.#made = []
    }
  }

  #keep(address: Address): Address {
    if (!address) {
      const sentence = 'An outline is so tangled that ground cannot be cut from it; draw it anew.'
      throw new SurveyError('area-invalid', sentence)
    }
    this.#made.push(address)
    return address
  }

  /** Polygons as one geometry without flaws. */
  #sound(polygons: readonly Polygon[]): Address {
    const geos = this.#geos
    const whole = this.#keep(
      this.#collection(
        collectionKind,
        polygons.flatMap((polygon) => this.#polygon(polygon) ?? []),
      ),
    )
    const parts = polygonsIn(geos, whole).flatMap((part) => {
      if (geos.GEOSisValid(part) === 1) return this.#polygonsOf(part)
      return this.#polygonsOf(this.#keep(geos.GEOSMakeValid(part)))
    })
    return this.#keep(
      this.#collection(
        multiPolygonKind,
        parts.flatMap((polygon) => this.#polygon(polygon) ?? []),
      ),
    )
  }

  /** Owned by whatever it is put into. */
  #polygon({ rings }: Polygon): Address | null {
    const geos = this.#geos
    const [outer, ...holes] = rings
    if (outer === undefined || !isRing(outer)) return null
    const made = holes.filter(isRing).map((hole) => geos.GEOSGeom_createLinearRing(this.#sequence(hole)))
    return this.#withAddresses(made, (at) =>
      geos.GEOSGeom_createPolygon(geos.GEOSGeom_createLinearRing(this.#sequence(outer)), at, made.length),
    )
  }

  #collection(kind: number, parts: readonly Address[]): Address {
    return this.#withAddresses(parts, (at) => this.#geos.GEOSGeom_createCollection(kind, at, parts.length))
  }

  #sequence(ring: Float64Array): Address {
    const { Module } = this.#geos
    const closed = ring[0] === ring.at(-2) && ring[1] === ring.at(-1)
    const xy = closed ? ring : Float64Array.from([...ring, ring[0]!, ring[1]!])
    const at = Module._malloc(xy.byteLength)
    Module.HEAPF64.set(xy, at / 8)
    const sequence = this.#geos.GEOSCoordSeq_copyFromBuffer(at, xy.length / 2, 0, 0)
    Module._free(at)
    return sequence
  }

  #withAddresses(list: readonly Address[], make: (at: number) => Address): Address {
    const { Module } = this.#geos
    const at = Module._malloc(4 * Math.max(1, list.length))
    Module.HEAPU32.set(list, at / 4)
    const made = make(at)
    Module._free(at)
    return made
  }

  #polygonsOf(geometry: Address): Polygon[] {
    const geos = this.#geos
    return polygonsIn(geos, geometry).flatMap((polygon) => {
      const outer = this.#ring(geos.GEOSGetExteriorRing(polygon))
      if (outer.length < 8) return []
      const holes = Array.from({ length: geos.GEOSGetNumInteriorRings(polygon) }, (_, n) =>
        this.#ring(geos.GEOSGetInteriorRingN(polygon, n)),
      )
      return [{ rings: [outer, ...holes] }]
    })
  }

  #ring(ring: Address): Float64Array {
    const { Module } = this.#geos
    const pairs = this.#geos.GEOSGetNumCoordinates(ring)
    const at = Module._malloc(Math.max(8, 16 * pairs))
    this.#geos.GEOSCoordSeq_copyToBuffer(this.#geos.GEOSGeom_getCoordSeq(ring), at, 0, 0)
    const xy = Module.HEAPF64.slice(at / 8, at / 8 + 2 * pairs)
    Module._free(at)
    return xy
  }
}

/** The polygons of a geometry, of whatever it holds; they stay its own. */
function polygonsIn(geos: Geos, geometry: Address): Address[] {
  const kind = geos.GEOSGeomTypeId(geometry)
  if (kind === polygonKind) return [geometry]
  if (kind !== multiPolygonKind && kind !== collectionKind) return []
  return Array.from({ length: geos.GEOSGetNumGeometries(geometry) }, (_, n) =>
    geos.GEOSGetGeometryN(geometry, n),
  ).flatMap((part) => polygonsIn(geos, part))
}

const meets = (a: Bounds, b: Bounds): boolean =>
  a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY

const isRing = (ring: Float64Array): boolean => ring.length >= 6 && ring.every(Number.isFinite)
