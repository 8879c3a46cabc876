import initGeosJs from 'geos-wasm'
import type { PlanarArea } from '#core/geometry'

type Geos = Awaited<ReturnType<typeof initGeosJs>>
type Address = number

/** Lines as interleaved pairs with the first pair of each, and past the last. */
export interface DrawnLines {
  readonly xy: Float64Array
  readonly start: Uint32Array
}

/** Lengths and areas of lines against areas by exact geometry: GEOS 3.13.0 as built in geos-wasm 3.1.1. Geometries are left to the process's end. */
export class ExactLines {
  readonly #geos: Geos

  private constructor(geos: Geos) {
    this.#geos = geos
  }

  static async load(): Promise<ExactLines> {
    return new ExactLines(await initGeosJs({ noticeHandler: (): void => {} }))
  }

  /** Length of the lines, and how much of it lies in the area. */
  lengths(lines: DrawnLines, area: PlanarArea): { allM: number; insideM: number } {
    const made = this.#lines(lines)
    const inside = this.#geos.GEOSIntersection(made, this.#area(area))
    return { allM: this.#number('GEOSLength', made), insideM: this.#number('GEOSLength', inside) }
  }

  /** Area that lies farther than `reachM` from the lines, with circles of 4 x 64 chords. */
  missedM2(lines: DrawnLines, area: PlanarArea, reachM: number): number {
    const geos = this.#geos
    const swath = geos.GEOSBuffer(this.#lines(lines), reachM, 64)
    return this.#number('GEOSArea', geos.GEOSDifference(this.#area(area), swath))
  }

  areaM2(area: PlanarArea): number {
    return this.#number('GEOSArea', this.#area(area))
  }

  /** The least width of the area's convex hull. */
  widthM(area: PlanarArea): number {
    return this.#number('GEOSLength', this.#geos.GEOSMinimumWidth(this.#area(area)))
  }

  #number(what: 'GEOSArea' | 'GEOSLength', geometry: Address): number {
    const geos = this.#geos
    const at = geos.Module._malloc(8)
    geos[what](geometry, at)
    const value = geos.Module.getValue(at, 'double')
    geos.Module._free(at)
    return value
  }

  #lines({ xy, start }: DrawnLines): Address {
    const parts = Array.from({ length: start.length - 1 }, (_, i) =>
      this.#geos.GEOSGeom_createLineString(this.#sequence(xy.slice(2 * start[i]!, 2 * start[i + 1]!))),
    )
    const multiLineString = 5
    return this.#collection(multiLineString, parts)
  }

  #area({ polygons }: PlanarArea): Address {
    const geos = this.#geos
    const parts = polygons.map(({ rings }) => {
      const [outer, ...holes] = rings.map((ring) => geos.GEOSGeom_createLinearRing(this.#sequence(ring)))
      return geos.GEOSGeom_createPolygon(outer!, this.#addresses(holes), holes.length)
    })
    const multiPolygon = 6
    return this.#collection(multiPolygon, parts)
  }

  #collection(kind: number, parts: readonly Address[]): Address {
    return this.#geos.GEOSGeom_createCollection(kind, this.#addresses(parts), parts.length)
  }

  #sequence(xy: Float64Array): Address {
    const geos = this.#geos
    const at = geos.Module._malloc(xy.byteLength)
    geos.Module.HEAPF64.set(xy, at / 8)
    return geos.GEOSCoordSeq_copyFromBuffer(at, xy.length / 2, 0, 0)
  }

  #addresses(list: readonly Address[]): Address {
    const at = this.#geos.Module._malloc(Math.max(4, 4 * list.length))
    this.#geos.Module.HEAPU32.set(list, at / 4)
    return at
  }
}
