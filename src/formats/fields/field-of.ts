/** What a column of a table, or a property of a feature, may mean to a survey. */
export type Field =
  | 'lat'
  | 'lon'
  | 'x'
  | 'y'
  | 'easting'
  | 'northing'
  | 'gridRef'
  | 'position'
  | 'epsg'
  | 'time'
  | 'date'
  | 'clock'
  | 'elevation'
  | 'hdop'
  | 'accuracy'
  | 'track'
  | 'segment'
  | 'walked'
  | 'area'
  | 'part'
  | 'ring'
  | 'name'
  | 'number'
  | 'object'
  | 'material'
  | 'period'
  | 'count'
  | 'weight'
  | 'depth'
  | 'note'

/** Units that a header may name: their size in grams or metres. */
const units = {
  mg: ['weight', 0.001],
  g: ['weight', 1],
  kg: ['weight', 1000],
  oz: ['weight', 28.349523125],
  lb: ['weight', 453.59237],
  mm: ['length', 0.001],
  cm: ['length', 0.01],
  m: ['length', 1],
  in: ['length', 0.0254],
  ft: ['length', 0.3048],
} as const satisfies Record<string, readonly ['weight' | 'length', number]>

/** International avoirdupois and foot units have exact metric sizes since the agreement of 1959. */
export type Unit = keyof typeof units

const unitWords: Readonly<Record<string, Unit>> = {
  gram: 'g',
  grams: 'g',
  gramme: 'g',
  grammes: 'g',
  gr: 'g',
  kilogram: 'kg',
  kilograms: 'kg',
  kilo: 'kg',
  kilos: 'kg',
  ounce: 'oz',
  ounces: 'oz',
  pound: 'lb',
  pounds: 'lb',
  lbs: 'lb',
  metre: 'm',
  metres: 'm',
  meter: 'm',
  meters: 'm',
  centimetre: 'cm',
  centimetres: 'cm',
  centimeters: 'cm',
  millimetres: 'mm',
  millimeters: 'mm',
  inch: 'in',
  inches: 'in',
  foot: 'ft',
  feet: 'ft',
}

/** How people write it: lower case, no punctuation, words of no meaning here (see `noise`) left out. */
const spellings: Readonly<Record<Field, string>> = {
  lat: 'lat, latitude, breite, breitengrad, latitud, phi, lat y, y lat, latitude y, start lat, position lat',
  lon: 'lon, long, lng, longitude, lange, langengrad, longitud, lambda, lon x, long x, x lon, x long, longitude x, position long, position lon',
  x: 'x, x coord, x coordinate, coord x, point x, pos x',
  y: 'y, y coord, y coordinate, coord y, point y, pos y',
  easting: 'easting, eastings, east, e, easting x, x easting, grid e, grid easting, grid east',
  northing: 'northing, northings, north, n, northing y, y northing, grid n, grid northing, grid north',
  gridRef:
    'grid ref, grid reference, gridref, gridreference, ngr, national grid reference, national grid ref, map ref, map reference, grid, ngr reference',
  position:
    'position, coordinates, coordinate, coords, coord, location, latlon, lat lon, lat long, latitude longitude, lat lng',
  epsg: 'epsg, epsg code, crs, srid',
  time: 'time, datetime, date time, timestamp, time stamp, utc, time utc, utc time, datetime utc, gmt, when, recorded, recorded time, date and time, time found, found time, iso time, epoch, unix time',
  date: 'date, day, date found, found date, found on, find date, recorded date, date recorded, utc date, date utc',
  clock: 'clock, time day',
  elevation: 'ele, elev, elevation, alt, altitude, height, z, ellipsoidal height',
  hdop: 'hdop, h dop, horizontal dilution precision',
  accuracy:
    'accuracy, horizontal accuracy, h accuracy, hacc, h acc, acc, precision, error, epe, eph, position error, horizontal error',
  track:
    'track, track id, track name, track no, track number, trk, trk id, trkid, trackid, tracknum, trackname',
  segment: 'segment, seg, segment id, seg id, trkseg, track segment, segment no, segment number',
  walked: 'walked',
  area: 'area, area name, search area, area id, gap',
  part: 'part, part id, part no, polygon',
  ring: 'ring, ring id, ring no, hole',
  name: 'name, title, label, waypoint, wpt, findspot, findspot name, point, point name, spot',
  number:
    'number, no, num, find number, find no, find num, find id, findid, findno, bag, bag no, bag number, small find, small find no, small find number, sf, sf no, sf number, catalogue number, catalogue no, cat no, record number, record no, find ref',
  object:
    'object, object type, object name, find, find type, item, item type, artefact, artifact, artefact type, artifact type, identification, id object, what',
  material: 'material, metal, materials, primary material, object material, made from, made',
  period: 'period, era, broad period, age, dating, period name, date period',
  count: 'count, quantity, qty, pieces, number items, number objects, no items, how many, frequency',
  weight: 'weight, wt, mass, object weight, find weight',
  depth: 'depth, find depth, depth found, found depth, depth below surface, burial depth',
  note: 'note, notes, comment, comments, remark, remarks, description, desc, details, cmt, memo, observations, find notes',
}

const noise = new Set(
  'gps gnss wgs84 wgs 84 etrs89 decimal dec degrees degree deg dd osgb osgb36 osgb1936 bng os british the of in at ddm'.split(
    ' ',
  ),
)

const fields: ReadonlyMap<string, Field> = new Map(
  Object.entries(spellings).flatMap(([field, names]) =>
    names.split(', ').map((name): [string, Field] => [name, field as Field]),
  ),
)

const measured: Readonly<Partial<Record<Field, 'weight' | 'length'>>> = {
  weight: 'weight',
  depth: 'length',
  accuracy: 'length',
  elevation: 'length',
}

export interface FieldGuess {
  readonly field: Field
  /** As the header names it; null where it names none or the field has none. */
  readonly unit: Unit | null
}

/**
 * What a header says its column holds: `Weight (kg)`, `find_no`, `GPS Latitude`, `depthCm`, `OS grid ref`. Null for one
 * that says nothing known. Cost: a few map look-ups.
 *
 * @example fieldOf('Weight (kg)') // { field: 'weight', unit: 'kg' }
 */
export function fieldOf(header: string): FieldGuess | null {
  const words = header
    .slice(0, 200)
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/#/g, ' no ')
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '')
  const plain = fields.get(words.join(' '))
  if (plain !== undefined) return { field: plain, unit: null }
  const last = unitOf(words.at(-1) ?? '')
  const stem = last === null ? undefined : lookUp(words.slice(0, -1))
  if (stem !== undefined && last !== null && measured[stem] === units[last][0]) {
    return { field: stem, unit: last }
  }
  const field =
    lookUp(words) ?? (last !== null && stem !== undefined && !(stem in measured) ? stem : undefined)
  return field === undefined ? null : { field, unit: null }
}

function lookUp(words: readonly string[]): Field | undefined {
  return fields.get(words.join(' ')) ?? fields.get(words.filter((word) => !noise.has(word)).join(' '))
}

/** The unit a word names, or null. */
export function unitOf(word: string): Unit | null {
  if (Object.hasOwn(units, word)) return word as Unit
  return Object.hasOwn(unitWords, word) ? unitWords[word]! : null
}

/** Kind and size (in grams or metres) of a unit. */
export function unitSize(unit: Unit): readonly ['weight' | 'length', number] {
  return units[unit]
}
