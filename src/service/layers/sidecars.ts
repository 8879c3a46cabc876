import { readdirSync, readFileSync, statSync } from 'node:fs'
import path from 'node:path'
import type { FileFault } from '#core/faults'
import { type GroundLines, type Placement, placementFromLines } from '#core/imagery'
import { systemFromWkt } from '#formats/coordinate-system'
import { isWorldFileName, readWorldFile, worldFileFor } from '#formats/worldfile'

/** A file that says where a picture lies: its name as given, and where it can be read. */
export interface Sidecar {
  readonly name: string
  readonly file: string
}

/** The largest world or .prj file that is read: real ones have a few hundred bytes. */
const mostBytes = 100_000

/** Files given at once, as sidecars that might be. */
export const sidecarsGiven = (files: readonly string[]): Sidecar[] =>
  files.map((file) => ({ name: path.basename(file), file }))

/** Files in the order to be taken: those that only say where a picture lies after all pictures. */
export function takenOrder(files: readonly string[]): string[] {
  const isSidecar = (file: string): boolean => isWorldFileName(file) || /\.prj$/i.test(file)
  return [...files.filter((file) => !isSidecar(file)), ...files.filter(isSidecar)]
}

/** Files of a folder, as sidecars that might be; none where it cannot be read. */
export function sidecarsIn(folder: string): Sidecar[] {
  try {
    return readdirSync(folder).map((name) => ({ name, file: path.join(folder, name) }))
  } catch {
    return []
  }
}

/** The world file among some files that belongs to a picture; and what to tell of those that belong to another kind of picture. */
export function worldFileOf(
  picture: string,
  sidecars: readonly Sidecar[],
): { readonly own: Sidecar | null; readonly faults: FileFault[] } {
  const names = sidecars.map(({ name }) => name)
  const { own, ofOthers } = worldFileFor(picture, names)
  const found = sidecars.find(({ name }) => name === own) ?? null
  const faults = found
    ? []
    : ofOthers.map((name): FileFault => {
        const text = `${name} is the world file of another kind of picture than ${picture}, so it was not used; if it does belong to it, name it like the picture.`
        return { line: null, code: 'wrong-extension', text }
      })
  return { own: found, faults }
}

const stemOf = (name: string): string => path.parse(name).name.toLowerCase()

/** The .prj file among some files that has a raster's name. */
export function systemFileOf(raster: string, sidecars: readonly Sidecar[]): Sidecar | null {
  const wanted = new Set([stemOf(raster), stemOf(raster.replace(/\.gz$/i, '')), raster.toLowerCase()])
  return (
    sidecars.find(({ name }) => path.extname(name).toLowerCase() === '.prj' && wanted.has(stemOf(name))) ??
    null
  )
}

function readSmall(file: string): Uint8Array | null {
  const stat = statSync(file, { throwIfNoEntry: false })
  return stat?.isFile() && stat.size <= mostBytes ? new Uint8Array(readFileSync(file)) : null
}

/** What a world file says; its faults name it, since they are told with the picture. */
export function readWorld({ name, file }: Sidecar): {
  lines: GroundLines | null
  faults: readonly FileFault[]
} {
  const bytes = readSmall(file)
  if (bytes === null) {
    const text = `${name} cannot be a world file: it is larger than ${mostBytes} bytes, or no file at all.`
    return { lines: null, faults: [{ line: null, code: 'unknown-kind', text }] }
  }
  return readWorldFile(bytes, { fileName: name })
}

/** The system that a .prj file states: its code where it is one that needs no text, else the text. */
export interface ReadSystem {
  readonly epsg: number | null
  readonly systemText: string | null
  readonly faults: readonly FileFault[]
}

export function readSystem({ name, file }: Sidecar): ReadSystem {
  const bytes = readSmall(file)
  if (bytes) return systemOfText(name, new TextDecoder().decode(bytes))
  return unknownText(`${name} is larger than any .prj file`)
}

/** The system that a well-known text of a file states. */
export function systemOfText(name: string, text: string): ReadSystem {
  const system = systemFromWkt(text)
  if ('reason' in system) return unknownText(`${name} ${system.reason}`)
  const note: FileFault[] = system.note === null ? [] : [{ line: null, code: 'assumed', text: system.note }]
  const asItIs = system.convert === null
  return { epsg: asItIs ? system.epsg : null, systemText: asItIs ? null : text, faults: note }
}

function unknownText(why: string): ReadSystem {
  const text = `${why}; choose the coordinate system by its EPSG code.`
  return { epsg: null, systemText: null, faults: [{ line: null, code: 'unknown-system', text }] }
}

/**
 * A placing of a picture as stored, as one of the picture turned upright by its EXIF orientation (CIPA DC-008, 4.6.4): `columns` and `rows`
 * are of the stored one.
 */
export function turned(lines: GroundLines, orientation: number, columns: number, rows: number): Placement {
  const {
    easting,
    northing,
    eastingPerColumn: ec,
    northingPerColumn: nc,
    eastingPerRow: er,
    northingPerRow: nr,
  } = lines
  // For each orientation: where the upright picture's corner, column and row lie in the stored one.
  const [fromRight, fromBottom, swapped] = turns[orientation - 1] ?? [false, false, false]
  const [cornerColumn, cornerRow] = [fromRight ? columns : 0, fromBottom ? rows : 0]
  const column = { e: fromRight ? -ec : ec, n: fromRight ? -nc : nc }
  const row = { e: fromBottom ? -er : er, n: fromBottom ? -nr : nr }
  const [across, down] = swapped ? [row, column] : [column, row]
  return placementFromLines({
    easting: easting + cornerColumn * ec + cornerRow * er,
    northing: northing + cornerColumn * nc + cornerRow * nr,
    eastingPerColumn: across.e,
    northingPerColumn: across.n,
    eastingPerRow: down.e,
    northingPerRow: down.n,
  })
}

/** From the stored picture's right, from its bottom, columns and rows exchanged: orientations 1 to 8. */
const turns: readonly (readonly [boolean, boolean, boolean])[] = [
  [false, false, false],
  [true, false, false],
  [true, true, false],
  [false, true, false],
  [false, false, true],
  [false, true, true],
  [true, true, true],
  [true, false, true],
]
