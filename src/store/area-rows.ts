import type { PlanarArea, Polygon } from '#core/geometry'
import { decodePolygons, encodeMultiPolygon } from './area-geometry.ts'
import { attributesAt, attributesCell, bytesAt, numberAt, textAt } from './cells.ts'
import type { Cell, Connection, Row } from './connection.ts'
import { givenAt, givenCells } from './given-planar.ts'
import type { AreaEdit, AreaKind, StoredArea } from './survey-file.ts'

/** Cells of an area, all but uuid, attributes and original. Faults: RangeError where `given` has other rings than the WGS84 polygons. */
export function areaCells(
  area: Pick<AreaEdit, 'name' | 'polygons' | 'given' | 'kind'>,
): Record<string, Cell> {
  const given = area.given === null ? null : { epsg: area.given.epsg, xy: flatRings(area.given.polygons) }
  if (area.given !== null && ringLengths(area.given.polygons) !== ringLengths(area.polygons)) {
    throw new RangeError('the planar polygons have other rings than those in WGS84')
  }
  return {
    name: area.name,
    ...(area.kind === undefined ? {} : { kind: area.kind === 'search' ? null : area.kind }),
    ...givenCells(given, flatRings(area.polygons)),
    geom: encodeMultiPolygon(area.polygons),
  }
}

export function newAreaCells(
  area: Pick<AreaEdit, 'name' | 'polygons' | 'given' | 'kind'>,
  beside: { uuid: string; attributes: Readonly<Record<string, string>>; originalId: number | null },
): Record<string, Cell> {
  return {
    uuid: beside.uuid,
    attributes: attributesCell(beside.attributes),
    original_id: beside.originalId,
    ...areaCells(area),
  }
}

const areaKinds: readonly AreaKind[] = ['search', 'field', 'no-go', 'hazard']

const selectAreas = `SELECT areas.*, originals.name AS original_name
  FROM areas LEFT JOIN originals ON originals.id = areas.original_id`

/** All areas in the order they came. Cost: one copy of the rings. */
export function readAreas(on: Connection): StoredArea[] {
  return on.all(`${selectAreas} ORDER BY areas.id`).map(storedArea)
}

export function readArea(on: Connection, id: number): StoredArea | null {
  const row = on.one(`${selectAreas} WHERE areas.id = ?`, id)
  return row === null ? null : storedArea(row)
}

function storedArea(row: Row): StoredArea {
  const blob = bytesAt(row, 'geom')
  const polygons = blob === null ? [] : (decodePolygons(blob) ?? [])
  const given = givenAt(row, flatRings(polygons))
  return {
    id: numberAt(row, 'id') ?? 0,
    uuid: textAt(row, 'uuid') ?? '',
    originalName: textAt(row, 'original_name'),
    name: textAt(row, 'name'),
    kind: areaKinds.find((kind) => kind === textAt(row, 'kind')) ?? 'search',
    polygons,
    given: given === null ? null : planarLike(polygons, given),
    attributes: attributesAt(row, 'attributes'),
  }
}

function ringLengths(polygons: readonly Polygon[]): string {
  return polygons.map((polygon) => polygon.rings.map((ring) => ring.length).join()).join(';')
}

function flatRings(polygons: readonly Polygon[]): Float64Array {
  const rings = polygons.flatMap((polygon) => polygon.rings)
  const flat = new Float64Array(rings.reduce((sum, ring) => sum + ring.length, 0))
  let at = 0
  for (const ring of rings) {
    flat.set(ring, at)
    at += ring.length
  }
  return flat
}

/** The flat planar pairs cut into rings as the polygons are. */
function planarLike(polygons: readonly Polygon[], given: { epsg: number; xy: Float64Array }): PlanarArea {
  let at = 0
  const cut = (ring: Float64Array): Float64Array => {
    at += ring.length
    return given.xy.slice(at - ring.length, at)
  }
  return { epsg: given.epsg, polygons: polygons.map((polygon) => ({ rings: polygon.rings.map(cut) })) }
}
