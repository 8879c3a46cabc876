import { strToU8, zipSync } from 'fflate'
import { writeGeoJson } from '#formats/geojson'
import type { PackPicture, WalkPack } from './walk-pack.ts'

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
  pictures,
}: WalkPack): Uint8Array {
  const json = (value: unknown): Uint8Array => strToU8(`${JSON.stringify(value, null, 2)}\n`)
  return zipSync(
    {
      'pack.json': json(pictures.length === 0 ? manifest : { ...manifest, pictures: pictures.map(factsOf) }),
      'area.geojson': strToU8(writeGeoJson({ ...none, areas: area })),
      'lanes.geojson': strToU8(writeGeoJson({ ...none, tracks: lanes })),
      'targets.geojson': strToU8(writeGeoJson({ ...none, findspots: targets })),
      'constraints.geojson': strToU8(writeGeoJson(constraints)),
      'cautions.json': json(cautions),
      ...Object.fromEntries(pictures.flatMap(filesOf)),
    },
    { mtime },
  )
}

const factsOf = ({ bytes: _bytes, ...facts }: PackPicture) => facts

/** A picture, stored as it is for it is packed already, and a world file beside it: six numbers that lay the middle of its upper left pixel. */
function filesOf(picture: PackPicture): [string, Uint8Array | [Uint8Array, { level: 0 }]][] {
  const { file, west, north, pixelWidthM: wide, pixelHeightM: high, bytes } = picture
  const world = [wide, 0, 0, -high, west + wide / 2, north - high / 2].join('\n')
  return [
    [file, [bytes, { level: 0 }]],
    [file.replace(/\.(j)pg$|\.(p)ng$/, '.$1$2gw'), strToU8(`${world}\n`)],
  ]
}
