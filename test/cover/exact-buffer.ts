import initGeosJs from 'geos-wasm'
import type { PlanarArea, Polygon } from '#core/geometry'
import { type JumpLimits, loneFix, type PlanarTrack, sweptLegs, sweptStep } from '#core/track'

type Geos = Awaited<ReturnType<typeof initGeosJs>>
/** A geometry by its address in the memory of GEOS; whoever made it frees it. */
type Address = number

export interface ExactCover {
  readonly areaM2: number
  readonly coveredM2: number
  /** Area of each part of the ground not reached, largest first. */
  readonly gapsM2: readonly number[]
}

export interface ExactWanted extends JumpLimits {
  readonly widthM: number
  /** Chords in a quarter of a circle: GEOS and shapely take 8 by default, which loses 0.6 % of a disc. */
  readonly quadrantSegments: number
  /** Fixes buffered at a time before the union; the quoted timings took 200. */
  readonly fixesAtATime: number
}

/**
 * The cover by exact geometry: buffers of the walked lines, joined, cut to the area; the gaps are what is left of the area.
 * An independent way to the same answer: GEOS 3.13.0 as built in geos-wasm 3.1.1.
 */
export class ExactBuffers {
  readonly #geos: Geos

  private constructor(geos: Geos) {
    this.#geos = geos
  }

  static async load(): Promise<ExactBuffers> {
    // GEOS tells of unsound polygons on the console too; `measure` hands that back instead.
    const quiet = { noticeHandler: (): void => {} }
    return new ExactBuffers(await initGeosJs(quiet))
  }

  cover(tracks: readonly PlanarTrack[], area: PlanarArea, wanted: ExactWanted): ExactCover {
    const geos = this.#geos
    const outline = this.#areaOf(area)
    const strips = tracks.flatMap((track) => this.#strips(track, wanted))
    const all = this.#collection(strips)
    const swath = geos.GEOSUnaryUnion(all)
    const inside = geos.GEOSIntersection(swath, outline)
    const missed = geos.GEOSDifference(outline, swath)
    const gapsM2 = Array.from({ length: geos.GEOSGetNumGeometries(missed) }, (_, i) =>
      this.#areaM2(geos.GEOSGetGeometryN(missed, i)),
    ).sort((a, b) => b - a)
    const found = { areaM2: this.#areaM2(outline), coveredM2: this.#areaM2(inside), gapsM2 }
    for (const made of [outline, all, swath, inside, missed]) geos.GEOSGeom_destroy(made)
    return found
  }

  /** Area of a polygon, or why it is not a valid one. */
  measure(polygon: Polygon): { areaM2: number; fault: string | null } {
    const geos = this.#geos
    const made = this.#polygon(polygon)
    const areaM2 = this.#areaM2(made)
    let fault: string | null = null
    if (geos.GEOSisValid(made) !== 1) {
      const reason = geos.GEOSisValidReason(made) as unknown as number
      fault = typeof reason === 'string' ? reason : geos.Module.UTF8ToString(reason)
    }
    geos.GEOSGeom_destroy(made)
    return { areaM2, fault }
  }

  #strips(track: PlanarTrack, wanted: ExactWanted): Address[] {
    const { kind } = sweptLegs(track, wanted)
    const strips: Address[] = []
    let from = 0
    for (let i = 0; i < kind.length; i++) {
      if (kind[i] === loneFix) strips.push(this.#strip(track.xy.subarray(2 * i, 2 * i + 2), wanted))
      if (kind[i] !== sweptStep) from = i + 1
      else if (kind[i + 1] !== sweptStep || i + 1 - from >= wanted.fixesAtATime) {
        strips.push(this.#strip(track.xy.subarray(2 * from, 2 * i + 4), wanted))
        from = i + 1
      }
    }
    return strips
  }

  #strip(xy: Float64Array, { widthM, quadrantSegments }: ExactWanted): Address {
    const geos = this.#geos
    const places = this.#sequence(xy)
    const line = xy.length === 2 ? geos.GEOSGeom_createPoint(places) : geos.GEOSGeom_createLineString(places)
    const strip = geos.GEOSBuffer(line, widthM / 2, quadrantSegments)
    geos.GEOSGeom_destroy(line)
    return strip
  }

  #areaOf({ polygons }: PlanarArea): Address {
    const geos = this.#geos
    const parts = this.#collection(polygons.map((polygon) => this.#polygon(polygon)))
    const joined = geos.GEOSUnaryUnion(parts)
    geos.GEOSGeom_destroy(parts)
    return joined
  }

  #polygon({ rings }: Polygon): Address {
    const geos = this.#geos
    const [outer, ...holes] = rings.map((ring) => geos.GEOSGeom_createLinearRing(this.#sequence(ring)))
    const list = this.#addresses(holes)
    const polygon = geos.GEOSGeom_createPolygon(outer!, list, holes.length)
    geos.Module._free(list)
    return polygon
  }

  #collection(parts: readonly Address[]): Address {
    const geos = this.#geos
    const list = this.#addresses(parts)
    const geometryCollection = 7
    const made = geos.GEOSGeom_createCollection(geometryCollection, list, parts.length)
    geos.Module._free(list)
    return made
  }

  #sequence(xy: Float64Array): Address {
    const geos = this.#geos
    const at = geos.Module._malloc(xy.byteLength)
    geos.Module.HEAPF64.set(xy, at / 8)
    const sequence = geos.GEOSCoordSeq_copyFromBuffer(at, xy.length / 2, 0, 0)
    geos.Module._free(at)
    return sequence
  }

  #addresses(list: readonly Address[]): Address {
    const at = this.#geos.Module._malloc(Math.max(4, 4 * list.length))
    this.#geos.Module.HEAPU32.set(list, at / 4)
    return at
  }

  #areaM2(geometry: Address): number {
    const geos = this.#geos
    const at = geos.Module._malloc(8)
    geos.GEOSArea(geometry, at)
    const areaM2 = geos.Module.getValue(at, 'double')
    geos.Module._free(at)
    return areaM2
  }
}
