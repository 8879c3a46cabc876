import type { FindRecord } from '#core/finds'
import { formatGridRef, type PlanarGrid, unprojectPoint } from '#core/geodesy'
import type { PlaceOf, WrittenPlace } from '#formats/finds-table'
import type { CataloguedFind } from '#store'
import { honestGridRef, planarFindspot } from '../views.ts'

const britishGrid = 27_700
/** Public copies tell no more than the square kilometre (Code of Practice for Responsible Metal Detecting; four figures). */
const publicSquareM = 1000

/** The place of each find as tables write it, exact. */
export function placesWritten(finds: readonly CataloguedFind[], grid: PlanarGrid | null): PlaceOf {
  const byNumber = new Map(finds.map((find) => [find.record.number, find]))
  return ({ number }) => {
    const foundAt = byNumber.get(number)?.foundAt
    if (!foundAt) return null
    const planar = grid && planarFindspot(foundAt, grid)
    return {
      lat: foundAt.lat,
      lon: foundAt.lon,
      easting: planar?.[0] ?? null,
      northing: planar?.[1] ?? null,
      epsg: planar ? grid!.epsg : null,
      gridRef:
        planar && grid!.epsg === britishGrid ? honestGridRef(planar[0], planar[1], foundAt.accuracyM) : null,
      accuracyM: foundAt.accuracyM,
      foundOn: foundAt.time === null ? null : new Date(foundAt.time * 1000).toISOString(),
    }
  }
}

/** The same for everybody: the middle of the square kilometre, and the day of finding. Nothing where the grid does not reach. */
export function publicPlaces(finds: readonly CataloguedFind[], grid: PlanarGrid | null): PlaceOf {
  const exact = placesWritten(finds, grid)
  return (find): WrittenPlace | null => {
    const place = exact(find)
    if (place === null || grid === null || place.easting === null || place.northing === null) return null
    const easting = (Math.floor(place.easting / publicSquareM) + 0.5) * publicSquareM
    const northing = (Math.floor(place.northing / publicSquareM) + 0.5) * publicSquareM
    const [lon, lat] = unprojectPoint(grid, easting, northing)
    return {
      lat,
      lon,
      easting,
      northing,
      epsg: grid.epsg,
      gridRef: grid.epsg === britishGrid ? formatGridRef(easting, northing, 4) : null,
      accuracyM: publicSquareM * Math.SQRT1_2,
      foundOn: place.foundOn?.slice(0, 10) ?? null,
    }
  }
}

/** A record with nothing in it that tells of people, of the exact spot, or of where things are kept. */
export function publicRecord(find: FindRecord): FindRecord {
  return {
    ...find,
    finder: null,
    whereNow: null,
    notes: null,
    signalNote: null,
    lay: null,
    conservation: null,
    findspot: null,
    visit: null,
  }
}

/** A record as tables write it: a find without notes has the note on its findspot, which no column of its own holds. */
export function writtenRecord({ record, foundAt }: CataloguedFind): FindRecord {
  return record.notes === null && foundAt !== null ? { ...record, notes: foundAt.note } : record
}
