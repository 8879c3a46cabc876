import exifr from 'exifr'
import { type FileFault, SurveyError } from '#core/faults'
import { FaultList } from '#formats/fault-list'
import { isoSeconds } from '#formats/time'
import { type PictureKind, pictureKind } from './picture-kind.ts'

/** What a photograph says of itself (CIPA DC-008, EXIF 2.32). Kept with the survey; never in a public copy. */
export interface PhotoFacts {
  readonly kind: PictureKind
  /** When it was taken by the clock of the camera, without a zone: `2026-07-02T12:34:56`; null where it does not say. */
  readonly takenLocal: string | null
  /** Zone of that clock as `+01:00`; null where it does not say, as with most cameras and older phones. */
  readonly zone: string | null
  /** Seconds since 1970-01-01 UTC: by the satellite's clock, else by the camera's with its zone; null where neither is there. */
  readonly time: number | null
  /** How it is to be turned to stand upright, 1 to 8; 1 where it does not say. */
  readonly orientation: number
  /** WGS84 degrees; null where it does not say. */
  readonly place: { readonly lat: number; readonly lon: number; readonly accuracyM: number | null } | null
  readonly camera: string | null
  readonly faults: readonly FileFault[]
}

/** Largest photograph taken in; phones make 3 to 20 MiB. */
export const largestPhotoBytes = 100 * 2 ** 20

const wanted = {
  tiff: true,
  exif: true,
  gps: true,
  xmp: false,
  icc: false,
  iptc: false,
  jfif: false,
  ihdr: false,
  mergeOutput: true,
  sanitize: true,
  // A Date would be read in the zone of this computer; the text has no zone, and is kept so.
  reviveValues: false,
  translateValues: false,
}

/**
 * What a photograph says of when, where and how it was taken, by exifr. Values that cannot be are left out and told.
 *
 * Cost    a look at the head of the file.
 * Faults  SurveyError('file-too-large') above 100 MiB, ('empty-file'), ('unknown-kind') for what is no picture. A picture
 *         that browsers do not show (HEIC, TIFF) is read, with a fault that says what to do.
 */
export async function readExif(bytes: Uint8Array, fileName: string): Promise<PhotoFacts> {
  if (bytes.length > largestPhotoBytes) {
    const text = `${fileName} has ${Math.round(bytes.length / 2 ** 20)} MiB, more than 100 MiB; save it smaller and take that.`
    throw new SurveyError('file-too-large', text)
  }
  if (bytes.length === 0) throw new SurveyError('empty-file', `${fileName} holds nothing.`)
  const kind = pictureKind(bytes)
  if (kind === null) {
    throw new SurveyError(
      'unknown-kind',
      `${fileName} is no picture that can be read; save it as JPEG and take that.`,
    )
  }
  const faults = new FaultList()
  const advice = adviceFor(kind)
  if (advice !== null) faults.note(null, 'unsupported-feature', advice)
  const block = kind === 'gif' ? null : kind === 'webp' ? webpExif(bytes) : bytes
  const tags = block === null ? {} : await tagsOf(block, faults)
  const takenLocal = localTime(tags.DateTimeOriginal) ?? localTime(tags.CreateDate)
  if (takenLocal === null && textOf(tags.DateTimeOriginal) !== null) {
    faults.note(
      null,
      'bad-value',
      `The time taken, “${textOf(tags.DateTimeOriginal)}”, is no time; it was left out.`,
    )
  }
  const zone = zoneOf(tags.OffsetTimeOriginal) ?? zoneOf(tags.OffsetTimeDigitized) ?? zoneOf(tags.OffsetTime)
  return {
    kind,
    takenLocal,
    zone,
    time:
      satelliteTime(tags) ??
      (takenLocal !== null && zone !== null ? finite(isoSeconds(takenLocal + zone)) : null),
    orientation: orientationOf(tags.Orientation),
    place: placeOf(tags, faults),
    camera: [textOf(tags.Make), textOf(tags.Model)].filter((part) => part !== null).join(' ') || null,
    faults: faults.list(),
  }
}

type Tags = Readonly<Record<string, unknown>>

async function tagsOf(bytes: Uint8Array, faults: FaultList): Promise<Tags> {
  try {
    return ((await exifr.parse(bytes, wanted)) as Tags | undefined) ?? {}
  } catch {
    faults.note(
      null,
      'broken-file',
      'What the picture says of itself is damaged; the picture was taken without it.',
    )
    return {}
  }
}

/** The EXIF chunk of a WebP file (RFC 9649, 2.7.1.5), which exifr 7.1.3 does not look for; a TIFF structure. */
function webpExif(bytes: Uint8Array): Uint8Array | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  for (let at = 12; at + 8 <= bytes.length; ) {
    const size = view.getUint32(at + 4, true)
    if (view.getUint32(at) === 0x45584946) {
      const chunk = bytes.slice(at + 8, at + 8 + size)
      return chunk[0] === 0x45 ? chunk.slice(6) : chunk
    }
    at += 8 + size + (size % 2)
  }
  return null
}

function adviceFor(kind: PictureKind): string | null {
  if (kind === 'heic') {
    return 'HEIC pictures cannot be shown here: share it from the phone as JPEG, or set the camera to make JPEG (on many phones “most compatible”).'
  }
  return kind === 'tiff' ? 'TIFF pictures cannot be shown in the page; save it as JPEG or PNG.' : null
}

const finite = (value: number): number | null => (Number.isFinite(value) ? value : null)

function textOf(value: unknown): string | null {
  if (typeof value !== 'string') return null
  const text = value.replaceAll('\0', '').trim()
  return text === '' ? null : text
}

/** `2026:07:02 12:34:56` as ISO 8601 without a zone; null for zeros, blanks and times that no calendar has. */
function localTime(value: unknown): string | null {
  const found = /^(\d{4})[:-](\d\d)[:-](\d\d)[ T](\d\d):(\d\d):(\d\d)/.exec(textOf(value) ?? '')
  if (found === null) return null
  const [, year, month, day, hour, minute, second] = found
  const iso = `${year}-${month}-${day}T${hour}:${minute}:${second}`
  return finite(isoSeconds(`${iso}Z`)) === null ? null : iso
}

function zoneOf(value: unknown): string | null {
  const text = textOf(value)
  if (text === 'Z') return '+00:00'
  return text !== null && /^[+-](?:0\d|1[0-4]):[0-5]\d$/.test(text) ? text : null
}

/** The satellite's clock is UTC; the day and the time of day stand in two tags. */
function satelliteTime(tags: Tags): number | null {
  const day = /^(\d{4})[:-](\d\d)[:-](\d\d)$/.exec(textOf(tags.GPSDateStamp) ?? '')
  const clock =
    typeof tags.GPSTimeStamp === 'string'
      ? tags.GPSTimeStamp.split(':').map(Number)
      : listOf(tags.GPSTimeStamp)
  if (day === null || clock === null || clock.length !== 3) return null
  const midnight = isoSeconds(`${day[1]}-${day[2]}-${day[3]}T00:00:00Z`)
  const [hour, minute, second] = clock as [number, number, number]
  const within = hour >= 0 && hour < 24 && minute >= 0 && minute < 60 && second >= 0 && second < 61
  return within ? finite(midnight + hour * 3600 + minute * 60 + second) : null
}

const listOf = (value: unknown): readonly number[] | null =>
  Array.isArray(value) || ArrayBuffer.isView(value) ? Array.from(value as ArrayLike<number>, Number) : null

function orientationOf(value: unknown): number {
  return typeof value === 'number' && Number.isInteger(value) && value >= 1 && value <= 8 ? value : 1
}

function placeOf(tags: Tags, faults: FaultList): PhotoFacts['place'] {
  const { latitude: lat, longitude: lon, GPSHPositioningError: error } = tags
  if (typeof lat !== 'number' || typeof lon !== 'number') return null
  // Receivers without a fix write zeros, or nothing over nothing.
  if (!(Math.abs(lat) <= 90 && Math.abs(lon) <= 180) || (lat === 0 && lon === 0)) {
    faults.note(
      null,
      'coordinate-out-of-range',
      'The place in the picture is none (no fix, or out of range); it was left out.',
    )
    return null
  }
  return { lat, lon, accuracyM: typeof error === 'number' && error > 0 ? error : null }
}
