/**
 * The demo survey's place and story, all invented: Ninestile Farm and its Terrace field, where a fair was held beside a
 * droveway at the mound of a lost post mill. It is laid on open sea in the Wash so that nobody's land is meant: see
 * docs/guide/demo.md. Terrain, photographs and further visits are to be made from the shapes in this file.
 *
 * Shapes stand in the field's own frame, metres: u along the contour and the furrows, v straight up the slope, counted
 * from `origin` in the middle of the field. `toGrid` gives British National Grid.
 */
export interface Place {
  readonly u: number
  readonly v: number
}

export const survey = { code: 'NST', title: 'Ninestile Farm', field: 'Terrace field', epsg: 27_700 } as const

/** The middle of National Grid square TF 58 47, over nine kilometres from the nearest shore. */
const origin = { easting: 558_500, northing: 347_500 } as const

const degree = Math.PI / 180
/** Bearing of the u axis from grid north, radians; the ground falls at right angles to it, to the south-south-east. */
const contourBearing = 75 * degree
/** Fall of the ground along -v, metres a metre. */
export const slope = 0.055
/** Height of the middle of the field, metres. */
const middleHeight = 31

const pairs = (...uv: readonly [number, number][]): Place[] => uv.map(([u, v]) => ({ u, v }))

/** The hedge round the field, counter-clockwise, not closed. */
export const fieldEdge: readonly Place[] = pairs(
  [-99, -61],
  [-31, -70],
  [43, -66],
  [90, -53],
  [98, -8],
  [93, 46],
  [53, 64],
  [-9, 69],
  [-68, 61],
  [-104, 30],
  [-107, -21],
)

/** A scrap beyond the lane at the field's eastern side, in the same leave to search. */
export const scrapEdge: readonly Place[] = pairs([106, -31], [124, -36], [129, -4], [108, 3])

/** A pond, not to be entered: its bank lies `pondRadius(angle)` from its middle. */
export const pondMiddle: Place = { u: 56, v: 24 }
function pondRadius(angle: number): number {
  return 8 + 1.1 * Math.cos(2 * angle + 0.6) + 0.5 * Math.cos(3 * angle)
}

/** The bank of the pond, `beyond` metres out, counter-clockwise, not closed. */
export function pondEdge(beyond = 0): Place[] {
  return Array.from({ length: 32 }, (_, i) => {
    const angle = (i * Math.PI) / 16
    const radius = pondRadius(angle) + beyond
    return { u: pondMiddle.u + radius * Math.cos(angle), v: pondMiddle.v + radius * Math.sin(angle) }
  })
}

/** The mill mound: a ring ditch with one gap, and in it the two slots that held the cross-trees of the post. Lengths in metres. */
export const mound = {
  middle: { u: -24, v: 14 },
  ringDiameter: 22,
  ditchWidth: 1.8,
  /** The gap looks down the slope, towards the droveway. */
  gapBearing: 170 * degree,
  gapWidth: 3.5,
  slotBearings: [20 * degree, 110 * degree],
  slotLength: 7.5,
  slotWidth: 0.8,
} as const

/** The droveway's middle line, from side to side of the field below the mound, and its width. */
export const droveway: { readonly line: readonly Place[]; readonly width: number } = {
  line: pairs([-112, -34], [-66, -27], [-22, -15], [28, -17], [72, -8], [112, -1]),
  width: 8,
}

/** The edge of the terrace, west to east: soil gathered above the line and was lost below it. A strip along it was left standing for birds. */
export const terrace: { readonly line: readonly Place[]; readonly heightM: number; readonly widthM: number } =
  {
    line: pairs([-104, 36], [-60, 39], [0, 38], [50, 40], [94, 37]),
    heightM: 0.7,
    widthM: 4,
  }

/** The lane between the field and the scrap, from south to north, and its width. */
export const lane: { readonly line: readonly Place[]; readonly width: number } = {
  line: pairs([86, -150], [95, -54], [102.3, -8], [97.5, 48], [92, 120]),
  width: 3.2,
}

/** Wheel tracks of the sprayer, in pairs along the contour: pairs so far apart, wheels so far apart, each so wide. Metres. */
export const tramlines = { every: 24, from: -64, gauge: 1.8, wheel: 0.45 } as const

/** Where cattle stood about a feeder, in the scrap: a ring, and nothing else. */
export const feedingRing = { middle: { u: 117.5, v: -17 }, radius: 3.2, width: 1.1 } as const

/** Trees that stand by themselves: middle and radius of the crown. */
export const loneTrees: readonly { readonly middle: Place; readonly radius: number }[] = [
  { middle: { u: 47, v: 33 }, radius: 3.6 },
  { middle: { u: 22, v: -48 }, radius: 5.2 },
  { middle: { u: -84, v: -40 }, radius: 4.4 },
  { middle: { u: 122, v: -9 }, radius: 3.1 },
]

/** Easting and northing, metres in EPSG:27700, of a place in the field's frame. */
export function toGrid({ u, v }: Place): readonly [easting: number, northing: number] {
  const sin = Math.sin(contourBearing)
  const cos = Math.cos(contourBearing)
  return [origin.easting + u * sin - v * cos, origin.northing + u * cos + v * sin]
}

/** The place of an easting and northing: the inverse of `toGrid`. */
export function fromGrid(easting: number, northing: number): Place {
  const sin = Math.sin(contourBearing)
  const cos = Math.cos(contourBearing)
  const [east, north] = [easting - origin.easting, northing - origin.northing]
  return { u: east * sin + north * cos, v: north * sin - east * cos }
}

/** Bearing from grid north of the way from one place to another, radians. */
export function bearingOf(from: Place, to: Place): number {
  return Math.atan2(to.u - from.u, to.v - from.v) + contourBearing - Math.PI / 2
}

/** Height of the bare slope at a place, metres. Mound, bank and droveway are not in it. */
export function slopeHeight({ v }: Place): number {
  return middleHeight + slope * v
}

/** A sett in the western hedge, half of it in the field: not to be walked over. */
export const sett: readonly Place[] = pairs([-113, -4], [-101, -6], [-97, 1], [-100, 10], [-112, 11])

/** The water main that runs beside the lane, from south to north, and the metres to keep clear of it. */
export const waterMain: { readonly line: readonly Place[]; readonly clearM: number } = {
  line: pairs([88, -150], [97.5, -54], [104.5, -8], [99.8, 48], [94, 120]),
  clearM: 8,
}
