import type { Added, ImportedFile } from '#contract'
import { countText } from '#ui'

const words: readonly (readonly [keyof Added, string, string])[] = [
  ['areas', 'search area', 'search areas'],
  ['tracks', 'track', 'tracks'],
  ['fixes', 'fix', 'fixes'],
  ['findspots', 'findspot', 'findspots'],
  ['finds', 'find', 'finds'],
  ['layers', 'layer', 'layers'],
  ['photos', 'photo', 'photos'],
]

/** `1 track with 5,412 fixes, 12 findspots`; empty where nothing came in. */
export function addedText(added: Added): string {
  return words
    .filter(([key]) => added[key] > 0 && key !== 'fixes')
    .map(([key, one, many]) => {
      const text = countText(added[key], one, many)
      return key === 'tracks' ? `${text} with ${countText(added.fixes, 'fix', 'fixes')}` : text
    })
    .join(', ')
}

/** One line on what became of a file. */
export function outcomeText(file: ImportedFile): string {
  if (file.alreadyThere) return 'Was in the survey already; nothing was changed.'
  const came = addedText(file.added)
  if (file.kind === 'world-file' || file.kind === 'coordinate-system') return 'Says where a picture lies.'
  if (came !== '') return `${came[0]!.toUpperCase()}${came.slice(1)}.`
  return file.kind === null ? 'Could not be read.' : 'Nothing in it has a place in a survey.'
}

/** `Line 12`, or `File` for a fault of the whole. */
export function faultPlace(line: number | null): string {
  return line === null ? 'File' : `Line ${line}`
}

type Bounds = readonly [number, number, number, number]

/** The bounds that hold all of these, nulls passed over; null where there are none. West, south, east, north. */
export function boundsOfAll(all: readonly (Bounds | null)[]): Bounds | null {
  return all.reduce<Bounds | null>((sum, one) => {
    if (one === null) return sum
    if (sum === null) return one
    return [
      Math.min(sum[0], one[0]),
      Math.min(sum[1], one[1]),
      Math.max(sum[2], one[2]),
      Math.max(sum[3], one[3]),
    ]
  }, null)
}
