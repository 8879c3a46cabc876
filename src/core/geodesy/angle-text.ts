import { badCoordinate } from './square-figures.ts'

/** One angle as written: its value in signed degrees, the step of its last figure in degrees, and what the text calls it. */
export interface WrittenAngle {
  readonly degrees: number
  readonly step: number
  /** 'lat' or 'lon' where a hemisphere letter or a label says so. */
  readonly axis: 'lat' | 'lon' | null
}

type Mark = '°' | "'" | '"'
/** What is gathered of an angle while its tokens are read. */
interface Gathered {
  readonly parts: { text: string; mark: Mark | null }[]
  letter: string | null
  label: 'lat' | 'lon' | null
}

const tokenPattern = /([+-]?\d+(?:\.\d*)?|[+-]?\.\d+)|([°'"])|([NSEW])(?![A-Z])|(LAT|LON)|([,;/|])|(\s+)/y
const unitOf = { '°': 1, "'": 1 / 60, '"': 1 / 3600 } as const
const marks: readonly Mark[] = ['°', "'", '"']

/** The common signs and words for degrees, minutes, seconds, hemispheres and minus, each brought to one. */
export function plainAngleText(text: string): string {
  return text
    .toUpperCase()
    .replaceAll(/[−–—‐‑]/g, '-')
    .replaceAll(/[°º˚∘⁰]|\bDEG(?:REE)?S?\b\.?|(?<=\d)D(?=[\s\d.]|$)/g, '°')
    .replaceAll(/['’‘′ʹ´`]{2}|["”“„″ʺ]|\bSEC(?:OND)?S?\b\.?|(?<=\d)S(?=\s*[NSEW](?![A-Z]))/g, '"')
    .replaceAll(/['’‘′ʹ´`]|\bMIN(?:UTE)?S?\b\.?|(?<=\d)M(?=[\s\d.]|$)/g, "'")
    .replaceAll(/\bLAT(?:ITUDE)?\b\s*[:=.]?/g, ' LAT ')
    .replaceAll(/\bLO?NG?(?:ITUDE)?\b\s*[:=.]?/g, ' LON ')
    .replaceAll(/\bNORTH\b/g, 'N')
    .replaceAll(/\bSOUTH\b/g, 'S')
    .replaceAll(/\bEAST\b/g, 'E')
    .replaceAll(/\bWEST\b/g, 'W')
}

/**
 * Cuts a text into the angles that it holds. `text` is what `plainAngleText` made. Null where anything in it belongs to
 * no angle. A run of two, four or six bare numbers is cut in half.
 */
export function writtenAngles(text: string): WrittenAngle[] | null {
  const gathered: Gathered[] = []
  let current: Gathered = { parts: [], letter: null, label: null }
  const leading = text.search(/[NSEW](?![A-Z])/) >= 0 && text.search(/[NSEW](?![A-Z])/) < text.search(/\d/)
  const next = (): void => {
    if (current.parts.length > 0) gathered.push(current)
    current = { parts: [], letter: null, label: null }
  }
  tokenPattern.lastIndex = 0
  while (tokenPattern.lastIndex < text.length) {
    const token = tokenPattern.exec(text)
    if (token === null) return null
    const [, number, mark, letter, label, separator] = token
    if (separator !== undefined) next()
    if (label !== undefined) {
      next()
      current.label = label === 'LAT' ? 'lat' : 'lon'
    }
    if (letter !== undefined) {
      if (leading || current.parts.length === 0) next()
      current.letter = letter
      if (!leading) next()
    }
    if (mark !== undefined) {
      const last = current.parts.at(-1)
      if (last === undefined || last.mark !== null) return null
      last.mark = mark as Mark
    }
    if (number !== undefined) {
      const degreesFollow = /^\s*°/.test(text.slice(tokenPattern.lastIndex))
      if (current.parts.length > 0 && (degreesFollow || /^[+-]/.test(number))) next()
      current.parts.push({ text: number, mark: null })
    }
  }
  next()
  return halved(gathered).map((angle) => angleValue(angle, text))
}

function halved(gathered: Gathered[]): Gathered[] {
  const [only, second] = gathered
  if (only === undefined || second !== undefined || only.parts.length % 2 === 1 || only.letter !== null)
    return gathered
  const half = only.parts.length / 2
  const plain = { letter: null, label: null }
  return [
    { ...plain, parts: only.parts.slice(0, half) },
    { ...plain, parts: only.parts.slice(half) },
  ]
}

function angleValue(angle: Gathered, text: string): WrittenAngle {
  const letterAxis = angle.letter === null ? null : /[NS]/.test(angle.letter) ? 'lat' : 'lon'
  if (letterAxis !== null && angle.label !== null && letterAxis !== angle.label) {
    throw badCoordinate(
      `"${text}" calls one angle both ${angle.label === 'lat' ? 'latitude' : 'longitude'} and ${angle.letter}.`,
    )
  }
  const signed = /^[+-]/.test(angle.parts[0]!.text)
  if (signed && angle.letter !== null) {
    throw badCoordinate(
      `"${text}" has both a sign and the letter ${angle.letter} on one angle; keep one of them.`,
    )
  }
  const negative = angle.parts[0]!.text.startsWith('-') || angle.letter === 'S' || angle.letter === 'W'
  const parts = unpacked(angle, letterAxis)
  let degrees = 0
  let step = 1
  let lastUnit = -1
  for (const [k, part] of parts.entries()) {
    const unit = part.mark === null ? lastUnit + 1 : marks.indexOf(part.mark)
    const decimals = /\.(\d*)$/.exec(part.text)?.[1]?.length ?? 0
    const size = Math.abs(Number(part.text))
    if (unit <= lastUnit || unit > 2)
      throw badCoordinate(`"${text}" has its degrees, minutes and seconds out of order.`)
    if (decimals > 0 && k < parts.length - 1) {
      throw badCoordinate(
        `"${text}" has decimals before its last figure; only the smallest part may have them.`,
      )
    }
    if (unit > 0 && size >= 60) {
      throw badCoordinate(
        `"${text}" has ${size} ${unit === 1 ? 'minutes' : 'seconds'}; there are fewer than 60.`,
      )
    }
    degrees += size * unitOf[marks[unit]!]
    step = unitOf[marks[unit]!] / 10 ** decimals
    lastUnit = unit
  }
  return { degrees: negative ? -degrees : degrees, step, axis: letterAxis ?? angle.label }
}

/** Parts of an angle written without gaps beside its letter: DDMM, DDMMSS, DDDMM or DDDMMSS, each with decimals. */
function unpacked(angle: Gathered, axis: 'lat' | 'lon' | null): Gathered['parts'] {
  const [only] = angle.parts
  if (angle.parts.length !== 1 || only!.mark !== null || axis === null) return angle.parts
  const pattern = axis === 'lat' ? /^(\d\d)(\d\d)(\d\d)?(\.\d*)?$/ : /^(\d\d\d)(\d\d)(\d\d)?(\.\d*)?$/
  const [, degrees, minutes, seconds, decimals = ''] = pattern.exec(only!.text) ?? []
  if (degrees === undefined || minutes === undefined) return angle.parts
  const texts = seconds === undefined ? [degrees, minutes + decimals] : [degrees, minutes, seconds + decimals]
  return texts.map((text) => ({ text, mark: null }))
}
