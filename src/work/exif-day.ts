/** EXIF tags (CIPA DC-008, table 4 and 7): where the EXIF part stands, and when the picture was taken or digitised. */
const exifPart = 0x8769
const takenTags = [0x9003, 0x9004]

/**
 * The day a picture was taken by its EXIF block ('Exif\0\0' and a TIFF structure), as 2026-07-02; null where it does not say, or
 * says no day that a calendar has. Cost: a look at two directories.
 */
export function exifDay(block: Uint8Array): string | null {
  return takenText(block, 10, dayOf)
}

/** The moment, local time as the camera wrote it, as 2026-07-02T10:15:00; null as above. */
export function exifMoment(block: Uint8Array): string | null {
  return takenText(block, 19, (text) => {
    const day = dayOf(text.slice(0, 10))
    const time = /^([01]\d|2[0-3]):([0-5]\d):([0-5]\d)$/.exec(text.slice(11))
    return day === null || time === null ? day : `${day}T${time[0]}`
  })
}

/** What `read` makes of the first `length` characters of a tag that says when the picture was taken. */
function takenText(block: Uint8Array, length: number, read: (text: string) => string | null): string | null {
  const view = new DataView(block.buffer, block.byteOffset, block.byteLength)
  try {
    const start = view.getUint32(0) === 0x45786966 ? 6 : 0
    const little = view.getUint16(start) === 0x4949
    const directory = start + view.getUint32(start + 4, little)
    const part = entryAt(view, directory, exifPart, little)
    if (part === null) return null
    const inner = start + view.getUint32(part + 8, little)
    for (const tag of takenTags) {
      const entry = entryAt(view, inner, tag, little)
      if (entry === null) continue
      const at = start + view.getUint32(entry + 8, little)
      const taken = read(String.fromCharCode(...block.subarray(at, at + length)))
      if (taken !== null) return taken
    }
  } catch (error) {
    // An offset that leads out of the block: it says nothing.
    if (!(error instanceof RangeError)) throw error
  }
  return null
}

function entryAt(view: DataView, directory: number, tag: number, little: boolean): number | null {
  const count = view.getUint16(directory, little)
  for (let i = 0; i < count; i++) {
    const entry = directory + 2 + 12 * i
    if (view.getUint16(entry, little) === tag) return entry
  }
  return null
}

function dayOf(text: string): string | null {
  const found = /^(\d{4})[:-](\d\d)[:-](\d\d)$/.exec(text)
  if (found === null) return null
  const day = `${found[1]}-${found[2]}-${found[3]}`
  const time = Date.parse(`${day}T00:00:00Z`)
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(day) ? day : null
}
