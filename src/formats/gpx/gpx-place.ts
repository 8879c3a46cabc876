import { localName } from '#formats/xml'

/** What an element of GPX is to a survey. `leaf` holds a value of its owner, `value` one that this project wrote under a name; `none` belongs to nothing that is kept. */
export type GpxRole =
  | 'document'
  | 'gpx'
  | 'track'
  | 'segment'
  | 'route'
  | 'fix'
  | 'waypoint'
  | 'name'
  | 'elevation'
  | 'time'
  | 'hdop'
  | 'leaf'
  | 'value'
  | 'none'

/** Children that mean something, by the role of their parent; names of GPX 1.0 and 1.1. A fix outside a segment is met in the wild. */
const known: ReadonlyMap<GpxRole, ReadonlyMap<string, GpxRole>> = new Map([
  ['document', new Map([['gpx', 'gpx']])],
  [
    'gpx',
    new Map([
      ['trk', 'track'],
      ['rte', 'route'],
      ['wpt', 'waypoint'],
    ]),
  ],
  [
    'track',
    new Map([
      ['trkseg', 'segment'],
      ['trkpt', 'fix'],
      ['name', 'name'],
    ]),
  ],
  ['segment', new Map([['trkpt', 'fix']])],
  [
    'route',
    new Map([
      ['rtept', 'fix'],
      ['name', 'name'],
    ]),
  ],
  [
    'fix',
    new Map([
      ['ele', 'elevation'],
      ['time', 'time'],
      ['hdop', 'hdop'],
    ]),
  ],
  [
    'waypoint',
    new Map([
      ['ele', 'elevation'],
      ['time', 'time'],
      ['name', 'name'],
    ]),
  ],
] as [GpxRole, Map<string, GpxRole>][])

const owners: ReadonlySet<GpxRole> = new Set<GpxRole>(['track', 'segment', 'route', 'fix', 'waypoint'])

/** What holds for a whole file: prefixes as its outermost element binds them, and how many kinds were met. */
export interface GpxNames {
  /** Before names of GPX itself, colon included; usually nothing. */
  gpx: string
  /** Before names of this project's own extension, colon included; null where the file does not use it. */
  own: string | null
  kinds: number
}

/** Kinds of element told apart in one file; far above any real file. Those beyond are not kept. */
const mostKinds = 20_000

/**
 * One kind of element, by its place in the tree. A file holds millions of elements but few kinds, so all that has to be
 * worked out about an element is worked out once a kind.
 */
export class GpxPlace {
  readonly role: GpxRole
  /** Nearest track, segment, route, fix or waypoint that holds it; itself if it is one; null outside of them. */
  readonly owner: GpxPlace | null
  /** Names from its owner down, without prefixes: `extensions/TrackPointExtension/hr`; this project's own keep `lynchet:`. */
  readonly path: string
  readonly #children = new Map<string, GpxPlace>()

  constructor(role: GpxRole, owner: GpxPlace | null, path: string) {
    this.role = role
    this.owner = owners.has(role) ? this : owner
    this.path = path
  }

  /** The kind of a child element, made on first sight. */
  child(name: string, names: GpxNames): GpxPlace {
    const seen = this.#children.get(name)
    if (seen !== undefined) return seen
    if (names.kinds > mostKinds) return new GpxPlace('none', null, '')
    names.kinds++
    const local = localName(name)
    const isGpx = this.role === 'document' || name === names.gpx + local
    const own = names.own !== null && name.startsWith(names.own)
    const role =
      (isGpx ? known.get(this.role)?.get(local) : undefined) ??
      (this.owner === null ? 'none' : own && local === 'value' ? 'value' : 'leaf')
    const step = own ? `lynchet:${local}` : local
    const path = this.owner === this || this.path === '' ? step : `${this.path}/${step}`
    const place = new GpxPlace(role, this.owner, owners.has(role) ? '' : path)
    this.#children.set(name, place)
    return place
  }
}
