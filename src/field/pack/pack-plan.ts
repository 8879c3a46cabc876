import { type Bounds, boundsOf, emptyBounds, joinBounds } from '#core/geometry'
import type { PackPicture, WalkPack } from '#formats/walk-pack'

/** Metres a degree of latitude, on a globe of 6,371 km: near enough for a field that is to be seen at a glance. */
const metresADegree = (Math.PI / 180) * 6_371_000

/** Longitude and latitude as metres east and south of the middle of a pack's ground. */
export interface PackFrame {
  readonly east: (lon: number) => number
  readonly south: (lat: number) => number
  /** West, north, width and height, metres, with room around. */
  readonly box: readonly [number, number, number, number]
}

function packBounds({ area, lanes, targets }: WalkPack): Bounds {
  const lines = [
    ...area.flatMap(({ polygons }) => polygons.flatMap(({ rings }) => rings)),
    ...lanes.map(({ xy }) => xy),
    ...targets.map(({ x, y }) => Float64Array.of(x, y)),
  ]
  return lines.map(boundsOf).reduce(joinBounds, emptyBounds)
}

/** Null for a pack that holds no place at all. */
export function packFrame(pack: WalkPack): PackFrame | null {
  const { minX, minY, maxX, maxY } = packBounds(pack)
  if (!(minX <= maxX)) return null
  const [lon0, lat0] = [(minX + maxX) / 2, (minY + maxY) / 2]
  const shrunk = Math.cos((lat0 * Math.PI) / 180)
  const east = (lon: number): number => (lon - lon0) * metresADegree * shrunk
  const south = (lat: number): number => (lat0 - lat) * metresADegree
  const room = 0.05 * Math.max(east(maxX) - east(minX), south(minY) - south(maxY), 20)
  const box = [
    east(minX) - room,
    south(maxY) - room,
    east(maxX) - east(minX) + 2 * room,
    south(minY) - south(maxY) + 2 * room,
  ] as const
  return { east, south, box }
}

/** Pairs of longitude and latitude as the path of an SVG. */
export function pathOf(xy: ArrayLike<number>, { east, south }: PackFrame): string {
  const parts: string[] = []
  for (let i = 0; i + 1 < xy.length; i += 2)
    parts.push(`${i === 0 ? 'M' : 'L'}${east(xy[i]!).toFixed(1)} ${south(xy[i + 1]!).toFixed(1)}`)
  return parts.join('')
}

/** How a picture's pixels lie on the frame, as the matrix of an SVG: by three of its corners, for a field is flat and small. */
export function pictureMatrix(
  { columns, rows, corners }: Pick<PackPicture, 'columns' | 'rows' | 'corners'>,
  { east, south }: PackFrame,
): number[] {
  const [northWest, northEast, , southWest] = corners.map(([lon, lat]) => [east(lon), south(lat)] as const)
  const [x, y] = northWest!
  return [
    (northEast![0] - x) / columns,
    (northEast![1] - y) / columns,
    (southWest![0] - x) / rows,
    (southWest![1] - y) / rows,
    x,
    y,
  ]
}

/** Metres from a place to a target, on the frame. */
export function metresTo(
  frame: PackFrame,
  from: { readonly lon: number; readonly lat: number },
  to: { readonly x: number; readonly y: number },
): number {
  return Math.hypot(frame.east(to.x) - frame.east(from.lon), frame.south(to.y) - frame.south(from.lat))
}
