import { SurveyError } from '#core/faults'
import type { FaultList } from '#formats/fault-list'
import { escapes, type ZipEntry, zipEntries, zipEntryBytes } from '#formats/zip'

/** The files of one layer, by the names that they have in the archive; null for those that are not there. */
export interface LayerFiles {
  /** Name of the .shp without folders. */
  readonly shp: string
  /** Unpacks a part: null where it is not there; what hinders it is noted. */
  readonly bytes: (part: LayerPart) => Uint8Array | null
  readonly has: (part: LayerPart) => boolean
  /** Name of a part without folders, whether it is there or not. */
  readonly nameOf: (part: LayerPart) => string
}

type LayerPart = 'shp' | 'shx' | 'dbf' | 'prj' | 'cpg'

const parts: readonly LayerPart[] = ['shp', 'shx', 'dbf', 'prj', 'cpg']
/** Layers of one archive; those beyond are named and not read. */
const mostLayers = 100
const mostBytes = 2 ** 29
/** Tables are mostly blanks and pack far better than anything else: here only the absolute bound holds. */
const anyRatio = 1100

/** A name without folders, fit to stand in a sentence. */
function baseName(path: string): string {
  const name = path.split(/[/\\]/).at(-1)!.replace(/\s+/g, ' ')
  return name.length > 80 ? `${name.slice(0, 75)}…${name.slice(-4)}` : name
}

/** Files that other systems leave in archives: not the files that they are named after. */
function isLitter(name: string): boolean {
  return /(^|\/)(__MACOSX\/|\._)/.test(name)
}

/**
 * The layers in a zip archive, whatever folders they lie in; a part belongs to the .shp of the same folder and name, capitals aside.
 * Faults: SurveyError('unknown-kind') where there is no .shp, ('unsafe-file') above 512 MiB in all, and those of `zipEntries`.
 */
export function layerFiles(archive: Uint8Array, fileName: string, faults: FaultList): LayerFiles[] {
  const entries = zipEntries(archive, fileName)
  const outside = entries.filter(({ name }) => escapes(name)).length
  if (outside > 0) {
    const are =
      outside === 1
        ? 'entry points outside the archive and was'
        : 'entries point outside the archive and were'
    faults.note(null, 'unsafe-file', `${outside} ${are} not read.`)
  }
  const byPath = new Map<string, ZipEntry>()
  for (const entry of entries) {
    const key = entry.name.toLowerCase()
    if (!escapes(entry.name) && !isLitter(entry.name) && !byPath.has(key)) byPath.set(key, entry)
  }
  const all = [...byPath].filter(([path]) => path.endsWith('.shp'))
  if (all.length === 0) throw new SurveyError('unknown-kind', `${fileName} holds no shapefile (.shp).`)
  if (all.length > mostLayers) {
    faults.note(null, 'file-too-large', `Only the first ${mostLayers} of its ${all.length} layers were read.`)
  }
  const layers = all.slice(0, mostLayers)
  const stems = layers.map(([path]) => path.slice(0, -4))
  const total = stems
    .flatMap((stem) => parts.map((part) => byPath.get(`${stem}.${part}`)?.size ?? 0))
    .reduce((sum, size) => sum + size, 0)
  if (total > mostBytes) {
    throw new SurveyError(
      'unsafe-file',
      `${fileName} would swell to ${Math.round(total / 2 ** 20)} MiB; split it into archives of fewer layers.`,
    )
  }
  return layers.map(([path, { name }]) =>
    oneLayer(path.slice(0, -4), name, { archive, fileName, byPath, faults }),
  )
}

interface Archive {
  readonly archive: Uint8Array
  readonly fileName: string
  readonly byPath: ReadonlyMap<string, ZipEntry>
  readonly faults: FaultList
}

function oneLayer(stem: string, shpName: string, { archive, fileName, byPath, faults }: Archive): LayerFiles {
  const entry = (part: LayerPart): ZipEntry | undefined => byPath.get(`${stem}.${part}`)
  const nameOf = (part: LayerPart): string => baseName(entry(part)?.name ?? `${shpName.slice(0, -3)}${part}`)
  const bytes = (part: LayerPart): Uint8Array | null => {
    const found = entry(part)
    if (found === undefined) return null
    try {
      return zipEntryBytes(archive, found.name, fileName, part === 'dbf' ? anyRatio : undefined)
    } catch (cause) {
      if (!(cause instanceof SurveyError)) throw cause
      const text =
        cause.code === 'unsafe-file'
          ? `${nameOf(part)} would swell beyond what is safe; it was not unpacked.`
          : `${nameOf(part)} is damaged in the archive; it could not be unpacked.`
      faults.note(null, cause.code, text)
      return null
    }
  }
  return { shp: baseName(shpName), bytes, has: (part) => entry(part) !== undefined, nameOf }
}

/** Text of a .prj or .cpg: names in it may hold more than ASCII, its grammar does not. */
export function partText(bytes: Uint8Array): string {
  return new TextDecoder('utf-8').decode(bytes.subarray(0, 100_000))
}
