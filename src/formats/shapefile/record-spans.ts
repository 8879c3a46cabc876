import type { FaultCode } from '#core/faults'

/** Where the content of each record lies in the .shp, in the order of the table's rows; a span of length 0 is a lost record. */
export interface RecordSpans {
  readonly from: Uint32Array
  readonly length: Uint32Array
  /** What is wrong with the file as a whole, as sentences without the file's name. */
  readonly flaws: readonly { readonly code: FaultCode; readonly text: string }[]
}

const fileCode = 9994
const headerBytes = 100
const recordHeaderBytes = 8

/** Records of one layer; a layer of more is no record of a survey. */
const mostRecords = 1_000_000

const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)

/** Whether bytes begin as a .shp or .shx does. */
export function isMainFile(bytes: Uint8Array): boolean {
  return bytes.length >= headerBytes && viewOf(bytes).getInt32(0) === fileCode
}

/**
 * Finds the records of a .shp, by its index (.shx) where there is one that fits it, else one after another. An edited file may
 * hold records that its index no longer lists, which is why the index comes first. ESRI Shapefile Technical Description (July
 * 1998), pages 4 to 5 and 23 to 24. Cost: one pass over the record headers, twice with an index.
 */
export function recordSpans(shp: Uint8Array, shx: Uint8Array | null): RecordSpans {
  const view = viewOf(shp)
  const stated = view.getInt32(24) * 2
  const flaws: { code: FaultCode; text: string }[] = []
  const walked = walkedSpans(view, stated)
  const indexed = shx !== null && isMainFile(shx) ? indexedSpans(view, viewOf(shx)) : null
  const useIndex = indexed !== null && (indexed.broken === null || indexed.good >= walked.good)
  const found = useIndex ? indexed : walked
  const { spans, broken, more } = found
  if (stated > shp.length) {
    const text = `is cut short: it holds ${shp.length} of ${stated} bytes; ${found.good} whole records were made out`
    flaws.push({ code: 'broken-file', text })
  } else if (!useIndex && broken !== null) {
    const text = `is damaged at byte ${broken}; ${found.good} of its records could be made out`
    flaws.push({ code: 'broken-file', text })
  }
  if (shx !== null && !useIndex && spans.length > 0) {
    flaws.push({ code: 'broken-file', text: 'has an index (.shx) that does not fit it; it was read without' })
  }
  if (more) {
    const text = `holds more than ${mostRecords} records; those beyond were not read`
    flaws.push({ code: 'file-too-large', text })
  }
  return {
    from: Uint32Array.from(spans, ([from]) => from),
    length: Uint32Array.from(spans, ([, n]) => n),
    flaws,
  }
}

interface Found {
  readonly spans: readonly (readonly [from: number, length: number])[]
  readonly good: number
  /** First byte where no record could be made out, of the .shp or, for an index that does not fit it, of that; null for a sound file. */
  readonly broken: number | null
  readonly more: boolean
}

/** Content length of the record whose header stands at a byte; null where none that fits the file does. */
function contentLength(view: DataView, at: number): number | null {
  if (at < headerBytes || at + recordHeaderBytes + 4 > view.byteLength) return null
  const length = view.getInt32(at + 4) * 2
  return length >= 4 && at + recordHeaderBytes + length <= view.byteLength ? length : null
}

/**
 * Past the stated end of the file anything may lie; what looks like records there is taken, what does not is passed over. Where the
 * first record is numbered 1, numbers are held to: one that does not follow shows that a length led astray.
 */
function walkedSpans(view: DataView, statedEnd: number): Found {
  const spans: (readonly [number, number])[] = []
  let numbered = view.byteLength >= headerBytes + 4 && view.getInt32(headerBytes) === 1
  let at = headerBytes
  let before = headerBytes
  let broken: number | null = null
  let lost = 0
  while (at < view.byteLength && spans.length < mostRecords) {
    const length = contentLength(view, at)
    const sound = length !== null && knownType(view.getInt32(at + recordHeaderBytes, true))
    if (!sound || (numbered && view.getInt32(at) !== spans.length + 1)) {
      const next = nextRecord(view, before + recordHeaderBytes, spans.length + 1)
      if (at < statedEnd || next !== null) broken ??= at
      if (next === null && !sound) break
      if (next !== null) {
        for (; spans.length + 1 < next.number && spans.length < mostRecords; lost++) spans.push([0, 0])
        at = next.at
        before = at
        continue
      }
      numbered = false
    }
    spans.push([at + recordHeaderBytes, length!])
    before = at
    at += recordHeaderBytes + length!
  }
  const more = at < view.byteLength && spans.length >= mostRecords
  return { spans, good: spans.length - lost, broken, more }
}

/** Records skipped at most where a file takes up again after damage. */
const mostSkipped = 1000

/**
 * Where a damaged file takes up again: the next place with a record number that follows, a length that fits and the file's own
 * kind of shape. Null where there is none. Cost: every second byte up to there; places looked at are not looked at again.
 */
function nextRecord(view: DataView, from: number, least: number): { at: number; number: number } | null {
  const kind = view.getInt32(32, true)
  for (let at = from; at + recordHeaderBytes + 4 <= view.byteLength; at += 2) {
    const number = view.getInt32(at)
    if (number < least || number > least + mostSkipped) continue
    if (view.getInt32(at + recordHeaderBytes, true) === kind && contentLength(view, at) !== null)
      return { at, number }
  }
  return null
}

function indexedSpans(view: DataView, index: DataView): Found {
  const spans: [number, number][] = []
  let good = 0
  let at = headerBytes
  for (; at + 8 <= index.byteLength && spans.length < mostRecords; at += 8) {
    const record = index.getInt32(at) * 2
    const length = index.getInt32(at + 4) * 2
    const fits =
      contentLength(view, record) === length && knownType(view.getInt32(record + recordHeaderBytes, true))
    spans.push(fits ? [record + recordHeaderBytes, length] : [0, 0])
    if (fits) good++
  }
  const whole = good === spans.length && index.getInt32(24) * 2 <= index.byteLength
  return { spans, good, broken: whole ? null : at, more: at + 8 <= index.byteLength }
}

const types = new Set([0, 1, 3, 5, 8, 11, 13, 15, 18, 21, 23, 25, 28, 31])

function knownType(type: number): boolean {
  return types.has(type)
}
