/** Where a geometry or a sequence lies in the memory of GEOS; 0 for none. */
export type Address = number

/** What is called of the C interface of GEOS (3.13), as geos-wasm gives it. */
export interface Geos {
  readonly Module: {
    _malloc(bytes: number): number
    _free(at: number): void
    readonly HEAPF64: Float64Array
    readonly HEAPU32: Uint32Array
  }
  GEOSCoordSeq_copyFromBuffer(at: number, size: number, hasZ: number, hasM: number): Address
  GEOSCoordSeq_copyToBuffer(sequence: Address, at: number, hasZ: number, hasM: number): number
  GEOSGeom_createLinearRing(sequence: Address): Address
  GEOSGeom_createPolygon(shell: Address, holes: number, count: number): Address
  GEOSGeom_createCollection(kind: number, parts: number, count: number): Address
  GEOSGeom_destroy(geometry: Address): void
  GEOSGeom_getCoordSeq(geometry: Address): Address
  GEOSGeomTypeId(geometry: Address): number
  GEOSGetNumGeometries(geometry: Address): number
  GEOSGetGeometryN(geometry: Address, n: number): Address
  GEOSGetNumCoordinates(geometry: Address): number
  GEOSGetExteriorRing(geometry: Address): Address
  GEOSGetNumInteriorRings(geometry: Address): number
  GEOSGetInteriorRingN(geometry: Address, n: number): Address
  GEOSisValid(geometry: Address): number
  GEOSMakeValid(geometry: Address): Address
  GEOSUnaryUnion(geometry: Address): Address
  GEOSDifference(a: Address, b: Address): Address
  GEOSBuffer(geometry: Address, metres: number, quadrantSegments: number): Address
}
