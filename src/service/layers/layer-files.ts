import { copyFileSync, existsSync, mkdirSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs'
import path from 'node:path'
import { SurveyError } from '#core/faults'
import type { LayerFile, LayerFileRole, StoredLayer } from '#store'

/** The folder beside a survey that keeps what was dropped on the desk. */
export function layersFolder(surveyPath: string): string {
  const stem = path.basename(surveyPath, path.extname(surveyPath))
  return path.join(path.dirname(surveyPath), `${stem}-layers`)
}

/** How a file is told of in the survey: absolute, and from the survey's folder so that both can be carried elsewhere together. */
export function layerFile(
  surveyPath: string,
  file: string,
  { role, name, sha256, size }: Pick<LayerFile, 'role' | 'name' | 'sha256' | 'size'>,
): LayerFile {
  const full = path.resolve(file)
  return {
    role,
    name,
    path: full,
    relativePath: relativeTo(surveyPath, full),
    sha256,
    size,
    firstColumn: 0,
    firstRow: 0,
  }
}

/** Null where no relative way leads there (another drive). */
function relativeTo(surveyPath: string, full: string): string | null {
  const way = path.relative(path.dirname(path.resolve(surveyPath)), full)
  return path.isAbsolute(way) ? null : way.split(path.sep).join('/')
}

/**
 * Where a file of a layer is now: where it was, where it lies from the survey, or by its name beside the survey or in the folder of
 * layers. Null where none of these has a file of its size. Whether it is the same file its hash must say.
 */
export function whereIs(
  surveyPath: string,
  file: Pick<LayerFile, 'name' | 'path' | 'relativePath' | 'size'>,
): string | null {
  const home = path.dirname(path.resolve(surveyPath))
  const places = [
    file.path,
    ...(file.relativePath === null ? [] : [path.join(home, ...file.relativePath.split('/'))]),
    path.join(home, file.name),
    path.join(layersFolder(surveyPath), file.name),
  ]
  const isThere = (place: string): boolean => {
    const stat = statSync(place, { throwIfNoEntry: false })
    return stat?.isFile() === true && stat.size === file.size
  }
  return places.find(isThere) ?? null
}

export const rastersOf = ({ files }: Pick<StoredLayer, 'files'>): StoredLayer['files'] =>
  files.filter(({ role }) => role === 'raster')

/** The layer that has a file of this hash, if any. */
export function layerWith(
  layers: readonly StoredLayer[],
  sha256: string,
  role: LayerFileRole = 'raster',
): StoredLayer | null {
  return (
    layers.find(({ files }) => files.some((file) => file.role === role && file.sha256 === sha256)) ?? null
  )
}

/**
 * Moves a file into a folder under a name, or a numbered one where that is taken: `field.jpg`, `field-2.jpg`. Copies where the folder is on
 * another disk. Faults: SurveyError 'disk-full', 'cannot-write'; then the file is where it was.
 */
export function movedInto(folder: string, file: string, name: string): string {
  try {
    mkdirSync(folder, { recursive: true })
    const target = path.join(folder, freeName(folder, name))
    moveFile(file, target)
    return target
  } catch (cause) {
    const { code } = cause as NodeJS.ErrnoException
    const full = code === 'ENOSPC'
    throw new SurveyError(
      full ? 'disk-full' : 'cannot-write',
      `${name} could not be stored in ${folder}: ${full ? 'the disk is full; make room' : 'the folder cannot be written'} and bring it in again.`,
      { cause },
    )
  }
}

function moveFile(file: string, target: string): void {
  try {
    renameSync(file, target)
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EXDEV') throw error
    try {
      copyFileSync(file, target)
    } catch (cause) {
      rmSync(target, { force: true })
      throw cause
    }
    rmSync(file, { force: true })
  }
}

/** Names are one whatever the case of their letters, since on some systems they are. */
function freeName(folder: string, name: string): string {
  const taken = new Set(readdirSync(folder).map((entry) => entry.toLowerCase()))
  const { name: stem, ext } = path.parse(name)
  for (let n = 1; ; n++) {
    const candidate = n === 1 ? name : `${stem}-${n}${ext}`
    if (!taken.has(candidate.toLowerCase()) && !existsSync(path.join(folder, candidate))) return candidate
  }
}
