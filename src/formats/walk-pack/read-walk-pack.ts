import { SurveyError } from '#core/faults'
import { readGeoJson } from '#formats/geojson'
import { zipEntryBytes } from '#formats/zip'
import type { PackManifest, PackPicture, PictureFacts, WalkPack } from './walk-pack.ts'

/**
 * A walk pack read back. Bounded as all archives are.
 * Faults: SurveyError 'broken-file' for a part that is damaged, 'missing-part' for one that is not there, 'unknown-kind' for an
 * archive of another kind or a later version, 'unsafe-file'.
 */
export function readWalkPack(bytes: Uint8Array, fileName: string): WalkPack {
  const { pictures: facts, ...manifest } = manifestOf(
    part(bytes, 'pack.json', fileName, 'unknown-kind'),
    fileName,
  )
  const geo = (name: string) => {
    const content = readGeoJson(part(bytes, name, fileName), { fileName: `${fileName}/${name}` })
    return { areas: content.areas, tracks: content.tracks, findspots: content.findspots }
  }
  const cautions = parsed(part(bytes, 'cautions.json', fileName), 'cautions.json', fileName)
  return {
    manifest,
    area: geo('area.geojson').areas,
    lanes: geo('lanes.geojson').tracks,
    targets: geo('targets.geojson').findspots,
    constraints: geo('constraints.geojson'),
    cautions: Array.isArray(cautions) ? cautions.map(String) : [],
    pictures: picturesOf(facts, bytes, fileName),
  }
}

/** Pictures whose facts are whole; what is not understood of one, or an archive without it, leaves that one out. */
function picturesOf(facts: unknown, bytes: Uint8Array, fileName: string): PackPicture[] {
  if (!Array.isArray(facts)) return []
  return facts.slice(0, mostPictures).flatMap((each: unknown) => {
    if (!isPicture(each)) return []
    const picture = zipEntryBytes(bytes, each.file, fileName)
    return picture ? [{ ...each, bytes: picture }] : []
  })
}

const mostPictures = 100
const isNumber = (value: unknown): value is number => Number.isFinite(value)

function isPicture(value: unknown): value is PictureFacts {
  const { file, name, mediaType, columns, rows, corners } = (value ?? {}) as Partial<PictureFacts>
  return (
    typeof file === 'string' &&
    typeof name === 'string' &&
    (mediaType === 'image/jpeg' || mediaType === 'image/png') &&
    isNumber(columns) &&
    isNumber(rows) &&
    Array.isArray(corners) &&
    corners.length === 4 &&
    corners.every((corner) => Array.isArray(corner) && corner.length === 2 && corner.every(isNumber))
  )
}

function part(
  bytes: Uint8Array,
  name: string,
  fileName: string,
  code: 'missing-part' | 'unknown-kind' = 'missing-part',
): Uint8Array {
  const found = zipEntryBytes(bytes, name, fileName)
  if (found) return found
  const sentence = `${fileName} has no ${name}, so it is not a whole walk pack; write it again from the desk.`
  throw new SurveyError(code, sentence)
}

function parsed(bytes: Uint8Array, name: string, fileName: string): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(bytes))
  } catch (cause) {
    throw new SurveyError('broken-file', `${name} in ${fileName} is damaged; write the pack again.`, {
      cause,
    })
  }
}

function manifestOf(bytes: Uint8Array, fileName: string): PackManifest {
  const manifest = parsed(bytes, 'pack.json', fileName) as Partial<PackManifest> | null
  if (manifest?.format === 'lynchet-walk-pack' && manifest.version === 1) return manifest as PackManifest
  const sentence = `${fileName} is not a walk pack of a version that is known here.`
  throw new SurveyError('unknown-kind', sentence)
}
