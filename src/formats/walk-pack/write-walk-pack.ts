import { strToU8, zipSync } from 'fflate'
import { writeGeoJson } from '#formats/geojson'
import type { WalkPack } from './walk-pack.ts'

/** The earliest time that a zip archive can state: the pack's own time stands in its manifest, and equal packs have equal bytes. */
const mtime = new Date(1980, 0, 1, 12)
const none = { areas: [], tracks: [], findspots: [] }

/** A walk pack as docs/reference/walk-pack.md says. Cost: all of it in memory. Faults: RangeError for what is not in EPSG:4326. */
export function writeWalkPack({
  manifest,
  area,
  lanes,
  targets,
  constraints,
  cautions,
}: WalkPack): Uint8Array {
  const json = (value: unknown): Uint8Array => strToU8(`${JSON.stringify(value, null, 2)}\n`)
  return zipSync(
    {
      'pack.json': json(manifest),
      'area.geojson': strToU8(writeGeoJson({ ...none, areas: area })),
      'lanes.geojson': strToU8(writeGeoJson({ ...none, tracks: lanes })),
      'targets.geojson': strToU8(writeGeoJson({ ...none, findspots: targets })),
      'constraints.geojson': strToU8(writeGeoJson(constraints)),
      'cautions.json': json(cautions),
    },
    { mtime },
  )
}
