import { badCoordinate } from './square-figures.ts'

/** An easting and a northing as written, with the grid that the text names, if any. */
export interface PlanarReading {
  /** Null where the text names no grid. */
  readonly epsg: number | null
  readonly easting: number
  readonly northing: number
  /** One step of the last figure given, metres: 1 for whole metres. */
  readonly step: number
  /** Band of latitude that a UTM text names, one of C to X without N and S; null elsewhere. */
  readonly band: string | null
  readonly warnings: readonly string[]
}

const metre = String.raw`\d+(?:\.\d*)?`
/** 30N 699310 5710163, UTM zone 30 U 699310 mE 5710163 mN, and the like. Letters I and O name no band. */
const utmText = new RegExp(
  String.raw`^(?:UTM )?(?:ZONE )?(\d{1,2}) ?([A-HJ-NP-Z])(?:ORTH|OUTH)? (?:E ?)?(${metre})(?: ?M)?(?: ?E)? (?:N ?)?(${metre})(?: ?M)?(?: ?N)?$`,
)
const upsText = new RegExp(
  `^UPS ([NS])(?:ORTH|OUTH)? (?:E ?)?(${metre})(?: ?M)?(?: ?E)? (?:N ?)?(${metre})(?: ?M)?(?: ?N)?$`,
)
const label = `(?:(E|N)(?:ASTING|ORTHING)?S? ?)?`
const after = `(?: ?M)?(?: ?(E|N))?`
const pairText = new RegExp(`^${label}(-?${metre})${after} ${label}(-?${metre})${after}$`)

/** Names that may stand before a pair of numbers, and the grid each means. */
const namedGrids: readonly (readonly [RegExp, number])[] = [
  [/^(?:BNG|OSGB(?:36)?|NGR|BRITISH NATIONAL GRID|NATIONAL GRID) /, 27_700],
  [/^(?:ITM|IRISH TRANSVERSE MERCATOR) /, 2157],
  [/^(?:TM75|IRISH GRID) /, 29_903],
]

/** Cuts a grid's name, or an EPSG code, off the front of a text. `text` is upper case with single spaces. */
export function namedGrid(text: string): { epsg: number | null; rest: string } {
  const code = /^EPSG ?(\d{4,5}) /.exec(text)
  if (code !== null) return { epsg: Number(code[1]), rest: text.slice(code[0].length) }
  for (const [name, epsg] of namedGrids) {
    const found = name.exec(text)
    if (found !== null) return { epsg, rest: text.slice(found[0].length) }
  }
  return { epsg: null, rest: text }
}

function stepOf(...numbers: string[]): number {
  return Math.max(...numbers.map((number) => 10 ** -(/\.(\d*)$/.exec(number)?.[1]?.length ?? 0)))
}

/**
 * UTM or UPS as written: zone, band or hemisphere, easting, northing. `text` is upper case, single spaces, no commas.
 * The letters N and S are read as hemispheres; other letters as bands. Null where the text is neither.
 */
export function parseUtmText(text: string): PlanarReading | null {
  const polar = upsText.exec(text)
  if (polar !== null) {
    const [, pole, easting, northing] = polar as unknown as string[]
    return {
      epsg: pole === 'N' ? 5041 : 5042,
      easting: Number(easting),
      northing: Number(northing),
      step: stepOf(easting!, northing!),
      band: null,
      warnings: [],
    }
  }
  const found = utmText.exec(text)
  if (found === null) return null
  const [, zoneText, letter, eastText, northText] = found as unknown as [
    string,
    string,
    string,
    string,
    string,
  ]
  const zone = Number(zoneText)
  const easting = Number(eastText)
  const northing = Number(northText)
  if (easting <= 360) return null
  if (zone < 1 || zone > 60) throw badCoordinate(`"${text}" has UTM zone ${zone}; the zones are 1 to 60.`)
  if (/[ABYZ]/.test(letter)) {
    throw badCoordinate(`"${text}" has the band ${letter}, which is polar; write UPS N or UPS S and no zone.`)
  }
  if (easting < 100_000 || easting >= 1_000_000 || northing > 10_000_000) {
    throw badCoordinate(`"${text}" is out of UTM's range: easting 100000 to 999999, northing 0 to 10000000.`)
  }
  const warnings =
    letter === 'S' && northing > 3_500_000 && northing < 4_500_000
      ? ['S was read as the southern hemisphere; if the band S (32 to 40 north) is meant, write N.']
      : []
  const south = letter === 'S' || letter < 'N'
  return {
    epsg: (south ? 32_700 : 32_600) + zone,
    easting,
    northing,
    step: stepOf(eastText, northText),
    band: letter === 'N' || letter === 'S' ? null : letter,
    warnings,
  }
}

/**
 * A plain pair of metres, easting first unless letters say otherwise: 651409 313177, E 651409.9 N 313177.3, 313177N 651409E.
 * Null where the text is no such pair, or where both numbers could be angles.
 */
export function parsePlanarPair(text: string): PlanarReading | null {
  const { epsg, rest } = namedGrid(text)
  const found = pairText.exec(rest)
  if (found === null) return null
  const [, before1, first, after1, before2, second, after2] = found
  // A letter between the numbers belongs to the second where the first has one before it.
  const letters = before1 === undefined ? [after1, before2 ?? after2] : [before1, before2 ?? after1]
  const [one, two] = [Number(first), Number(second)]
  if (epsg === null && Math.abs(one) <= 360 && Math.abs(two) <= 360) return null
  if (letters[0] !== undefined && letters[0] === letters[1]) {
    throw badCoordinate(`"${text}" gives ${letters[0] === 'E' ? 'easting' : 'northing'} twice.`)
  }
  const northFirst = letters[0] === 'N' || letters[1] === 'E'
  return {
    epsg,
    easting: northFirst ? two : one,
    northing: northFirst ? one : two,
    step: stepOf(first!, second!),
    band: null,
    warnings: [],
  }
}
