import { airy1830, airyModified1849, projectTransverseMercator, transverseMercator } from '#core/geodesy'
import { type DatumShift, datumShift } from './datum-shift.ts'
import { knownGrid } from './known-grid.ts'
import { type PairConversion, pairConversion } from './proj4-conversion.ts'
import { projectionWords } from './projection-words.ts'
import type { StatedProjection, StatedSystem, UnknownSystem } from './stated-system.ts'

/** What becomes of positions that a file gives in some system. */
export interface SourceSystem {
  /** As its definition calls it. */
  readonly name: string
  /** What positions are recorded in: 4326, or a code that `planarGrid` knows. */
  readonly epsg: number
  /** Fills `out`, which may be the input, with positions in `epsg`: NaN where the system does not reach. Null: they stay as they are. */
  readonly convert: PairConversion | null
  /** True where the file's own figures are longitude and latitude in degrees. */
  readonly degrees: boolean
  /** What a person must be told ('assumed'); null where nothing was assumed or lost. */
  readonly note: string | null
}

/**
 * OSGB36 and Irish positions that are not in their grid already are brought into it on their own datum, which is exact;
 * from there core/geodesy takes them to WGS84 by OSTN15 or the Irish polynomial. Grid parameters: EPSG 27700 and 29903.
 */
const homeGrids = {
  osgb36: {
    epsg: 27_700,
    grid: transverseMercator({
      ellipsoid: airy1830,
      originLat: 49,
      centralMeridian: -2,
      scale: 0.999_601_271_7,
      falseEasting: 400_000,
      falseNorthing: -100_000,
    }),
  },
  ireland: {
    epsg: 29_903,
    grid: transverseMercator({
      ellipsoid: airyModified1849,
      originLat: 53.5,
      centralMeridian: -8,
      scale: 1.000_035,
      falseEasting: 200_000,
      falseNorthing: 250_000,
    }),
  },
} as const

/** Decides how positions in a stated system are recorded. Nothing is guessed: what is not known is refused with the reason. */
export function sourceSystem(stated: StatedSystem): SourceSystem | UnknownSystem {
  const shift = datumShift(stated)
  const { name, projection, datum } = stated
  const grid = projection === null || stated.meridian !== 0 ? null : gridOf(projection, shift)
  if (grid !== null)
    return { name, epsg: grid, convert: null, degrees: false, note: gridNote(stated, shift, grid) }
  if (shift.kind === 'unknown') {
    return { reason: `states the datum ${datum || 'without a name'}, whose way to WGS84 is not known here` }
  }
  const degrees = projection === null && stated.degreesPerUnit === 1
  const note = noteOf(name, shift)
  if (degrees && shift.kind === 'none' && stated.meridian === 0) {
    return { name, epsg: 4326, convert: null, degrees, note }
  }
  const convert = conversionOf(stated, shift)
  if (convert === null) {
    return {
      reason: `states the projection ${projection?.method || 'without a name'}, which is not read here`,
    }
  }
  const epsg = shift.kind === 'osgb36' || shift.kind === 'ireland' ? homeGrids[shift.kind].epsg : 4326
  return { name, epsg, convert, degrees, note }
}

/** A grid of `planarGrid`. The National and the Irish Grid go by their parameters, which nothing else has; the others need their datum. */
function gridOf(projection: StatedProjection, shift: DatumShift): number | null {
  const grid = knownGrid(projection)
  return grid === 27_700 || grid === 29_903 || shift.kind === 'none' ? grid : null
}

function gridNote(stated: StatedSystem, shift: DatumShift, grid: number): string | null {
  const { name, datum } = stated
  if (grid === 27_700 && shift.kind !== 'osgb36') {
    return `${name} has the figures of the British National Grid but names another datum (${datum || 'none'}); it was read as the National Grid, by OSTN15.`
  }
  if (grid === 29_903 && !/^tm_?75|^geodetic_datum_of_1965/.test(datum)) {
    return `${name} was read as the Irish Grid of 1975 (EPSG:29903), whose figures it has.`
  }
  return grid === 27_700 || grid === 29_903 ? null : noteOf(name, shift)
}

function noteOf(name: string, shift: DatumShift): string | null {
  if (shift.kind === 'parameters') {
    return `${name} reaches WGS84 by a shift of three or seven parameters only: positions may be about ${shift.metres} m out.`
  }
  if (shift.kind === 'none' && shift.assumed) return `${name} names no datum; WGS84 was taken for it.`
  return null
}

/** Null for a projection that is not read. */
function conversionOf(stated: StatedSystem, shift: DatumShift): PairConversion | null {
  const { projection, ellipsoid, meridian } = stated
  const words = projection === null ? '+proj=longlat' : projectionWords(projection)
  if (words === null) return null
  const { a, inverseFlattening: rf } = ellipsoid
  const shape = words.includes('+R=') ? '' : rf === 0 ? ` +a=${a} +b=${a}` : ` +a=${a} +rf=${rf}`
  const shifted = shift.kind === 'parameters' ? ` ${shift.words}` : ''
  const toLonLat = pairConversion(`${words}${shape} +pm=${meridian}${shifted}`, stated.degreesPerUnit)
  if (toLonLat === null || (shift.kind !== 'osgb36' && shift.kind !== 'ireland')) return toLonLat
  const { grid } = homeGrids[shift.kind]
  return (xy, out) => {
    toLonLat(xy, out)
    projectTransverseMercator(grid, out, out)
  }
}
