import type { FileKind } from '#core/record'

/** What a text looks like, or in words what it is instead. */
export type TextKind =
  | { readonly kind: Extract<FileKind, 'gpx' | 'kml' | 'geojson'> }
  | { readonly kind: 'text' }
  | { readonly kind: null; readonly is: string }

const kmlRoots = new Set(
  'kml Document Folder Placemark Point LineString LinearRing Polygon MultiGeometry NetworkLink GroundOverlay'.split(
    ' ',
  ),
)
const strangers: Readonly<Record<string, string>> = {
  html: 'a web page, not the file itself; download it again',
  osm: 'OpenStreetMap XML; export it as GPX or GeoJSON',
  TrainingCenterDatabase: 'a TCX file; export the track as GPX',
  svg: 'an SVG picture',
}

/** What the start of a text says the whole is. `extension` helps only where a prologue is longer than the start. */
export function kindOfText(start: string, extension: string): TextKind {
  const text = start.trimStart()
  if (looksBinary(text)) return { kind: null, is: 'no text and no known binary format' }
  if (text.startsWith('{') || text.startsWith('[')) return { kind: 'geojson' }
  if (!text.startsWith('<')) return { kind: 'text' }
  if (/^<!doctype\s+html|^<html/i.test(text)) return { kind: null, is: strangers.html! }
  const root = rootName(text)
  if (root === null) return extension === 'kml' ? { kind: 'kml' } : { kind: 'gpx' }
  if (root === 'gpx') return { kind: 'gpx' }
  if (kmlRoots.has(root)) return { kind: 'kml' }
  const is = Object.hasOwn(strangers, root)
    ? strangers[root]!
    : `XML of another kind (<${root.slice(0, 40)}>)`
  return { kind: null, is }
}

/** Local name of the first element; null if the start does not reach it. */
function rootName(text: string): string | null {
  const body = text
    .replace(/<!--[\s\S]*?(-->|$)/g, '')
    .replace(/<\?[\s\S]*?(\?>|$)/g, '')
    .replace(/<!DOCTYPE[^[>]*(\[[\s\S]*?\]\s*)?(>|$)/gi, '')
  return /<(?:[\p{L}_][\p{L}\p{N}_.-]*:)?([\p{L}_][\p{L}\p{N}_.-]*)/u.exec(body)?.[1] ?? null
}

/** More than one character in a hundred that no text holds. */
function looksBinary(text: string): boolean {
  let odd = 0
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i)
    if ((code < 32 && code !== 9 && code !== 10 && code !== 13 && code !== 12) || code === 0xfffd) odd++
  }
  return odd * 100 > text.length
}
