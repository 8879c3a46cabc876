import { SaxesParser } from 'saxes'

/**
 * What a file breaks of GPX 1.1 (topografix.com/GPX/1/1, the schema as published 2004): which elements stand in which, in
 * what order and how often, and what values they hold. Written from the standard; nothing of its schema's text is here.
 */
const gpx = 'http://www.topografix.com/GPX/1/1'

interface Element {
  readonly name: string
  readonly space: string
  readonly attributes: ReadonlyMap<string, string>
  readonly children: Element[]
  text: string
}

const point = [
  'ele?',
  'time?',
  'magvar?',
  'geoidheight?',
  'name?',
  'cmt?',
  'desc?',
  'src?',
  'link*',
  'sym?',
  'type?',
  'fix?',
  'sat?',
  'hdop?',
  'vdop?',
  'pdop?',
  'ageofdgpsdata?',
  'dgpsid?',
  'extensions?',
]
const line = ['name?', 'cmt?', 'desc?', 'src?', 'link*', 'number?', 'type?', 'extensions?']

/** Children of each element in their order: `?` at most once, `*` any number. */
const order: Readonly<Record<string, readonly string[]>> = {
  gpx: ['metadata?', 'wpt*', 'rte*', 'trk*', 'extensions?'],
  metadata: [
    'name?',
    'desc?',
    'author?',
    'copyright?',
    'link*',
    'time?',
    'keywords?',
    'bounds?',
    'extensions?',
  ],
  wpt: point,
  rtept: point,
  trkpt: point,
  rte: [...line, 'rtept*'],
  trk: [...line, 'trkseg*'],
  trkseg: ['trkpt*', 'extensions?'],
  link: ['text?', 'type?'],
}

const decimal = /^[+-]?(\d+(\.\d*)?|\.\d+)$/
const whole = /^\+?\d+$/
const values: Readonly<Record<string, RegExp>> = {
  ele: decimal,
  geoidheight: decimal,
  hdop: decimal,
  vdop: decimal,
  pdop: decimal,
  ageofdgpsdata: decimal,
  magvar: decimal,
  time: /^-?\d{4,}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)?$/,
  number: whole,
  sat: whole,
  dgpsid: /^\+?0*(\d{1,3}|10[01]\d|102[0-3])$/,
  fix: /^(none|2d|3d|dgps|pps)$/,
}

/** One sentence for each breach; none for a file that keeps to the standard. */
export function gpxBreaches(text: string): string[] {
  const root = treeOf(text)
  const breaches: string[] = []
  if (root.name !== 'gpx' || root.space !== gpx) breaches.push('the outermost element is not gpx of GPX 1.1')
  if (root.attributes.get('version') !== '1.1') breaches.push('the version is not 1.1')
  if (!root.attributes.has('creator')) breaches.push('there is no creator')
  look(root, breaches)
  return breaches
}

function look(element: Element, breaches: string[]): void {
  const { name, children, text, attributes } = element
  if (name === 'extensions') {
    if (children.some(({ space }) => space === gpx || space === ''))
      breaches.push('an extension is of no other namespace')
    return
  }
  if (['wpt', 'rtept', 'trkpt'].includes(name)) {
    const within = (value: string | undefined, low: number, below: number, closed: boolean): boolean =>
      value !== undefined &&
      decimal.test(value) &&
      Number(value) >= low &&
      (closed ? Number(value) <= below : Number(value) < below)
    if (!within(attributes.get('lat'), -90, 90, true)) breaches.push(`${name} has no latitude`)
    if (!within(attributes.get('lon'), -180, 180, false)) breaches.push(`${name} has no longitude`)
  }
  const held = values[name]
  if (held !== undefined && !held.test(text.trim())) breaches.push(`${name} holds "${text}"`)
  const allowed = order[name]
  if (allowed !== undefined && text.trim() !== '') breaches.push(`${name} holds text`)
  if (allowed !== undefined) breaches.push(...misplaced(element, allowed))
  for (const child of children) look(child, breaches)
}

function misplaced({ name, children }: Element, allowed: readonly string[]): string[] {
  const out: string[] = []
  let at = 0
  const seen = new Set<string>()
  for (const child of children) {
    const place = allowed.findIndex((entry) => entry.slice(0, -1) === child.name && child.space === gpx)
    if (place < 0) out.push(`${child.name} does not belong in ${name}`)
    else if (place < at) out.push(`${child.name} stands too late in ${name}`)
    else if (allowed[place]!.endsWith('?') && seen.has(child.name))
      out.push(`${name} has ${child.name} twice`)
    at = Math.max(at, place)
    seen.add(child.name)
  }
  return out
}

function treeOf(text: string): Element {
  const parser = new SaxesParser({ xmlns: true })
  const open: Element[] = []
  let root: Element | null = null
  parser.on('opentag', ({ local, uri, attributes }) => {
    const element: Element = {
      name: local,
      space: uri,
      attributes: new Map(Object.values(attributes).map((attribute) => [attribute.name, attribute.value])),
      children: [],
      text: '',
    }
    open.at(-1)?.children.push(element)
    root ??= element
    open.push(element)
  })
  parser.on('text', (piece) => {
    const element = open.at(-1)
    if (element !== undefined) element.text += piece
  })
  parser.on('closetag', () => {
    open.pop()
  })
  parser.on('error', (error) => {
    throw error
  })
  parser.write(text).close()
  return root!
}
