import { normal, type Random, seededRandom, uniform, unit } from '#core/random'
import { cropVigour, wheelShare } from './crop.ts'
import { distanceTo, fromHedge, fromPond, fromScrap, within } from './field-shapes.ts'
import { eachCell, type Frame } from './raster-frame.ts'
import { feedingRing, fieldEdge, lane, loneTrees, type Place, tramlines } from './scenario.ts'
import type { Colour, Season } from './season.ts'
import { eased, softNoise } from './soft-noise.ts'

export const pictureFrame: Frame = { west: 558_376, north: 347_590, columns: 1040, rows: 740, cellM: 0.25 }

/** The sun stands in the south-east: shadows fall this way, metres for each metre of height. */
const shadowFall: Place = { u: -0.45, v: 0.62 }

interface Tree {
  readonly middle: Place
  readonly radius: number
}

/**
 * The field from above in one summer: red, green and blue of 0.25 m pixels side by side, in `pictureFrame`. The same seed and season give the
 * same bytes. Cost: about a second.
 */
export function pictureBytes(season: Season, seed: number): Uint8Array {
  const random = seededRandom(seed)
  const colourAt = groundColours(season, random)
  const trees = hedgeTrees(random)
  const treeTop = treeColours(season, trees, random)
  const bytes = new Uint8Array(3 * pictureFrame.columns * pictureFrame.rows)
  eachCell(pictureFrame, (place, cell) => {
    const light = 2.2 * normal(random)
    const beyond = fromHedge(place)
    const [red, green, blue] = treeTop(place, beyond, colourAt(place, beyond))
    bytes[3 * cell] = toByte(red + light + 1.3 * normal(random))
    bytes[3 * cell + 1] = toByte(green + light + 1.3 * normal(random))
    bytes[3 * cell + 2] = toByte(blue + light + 1.3 * normal(random))
  })
  return bytes
}

const toByte = (value: number): number => Math.max(0, Math.min(255, Math.round(value)))

function mixed(a: Colour, b: Colour, share: number): Colour {
  const s = Math.max(0, Math.min(1, share))
  return [a[0] + s * (b[0] - a[0]), a[1] + s * (b[1] - a[1]), a[2] + s * (b[2] - a[2])]
}

const lit = ([red, green, blue]: Colour, by: number): Colour => [red * by, green * by, blue * by]

/** The ground without its trees: crop, wheel tracks, margin, pond, lane, and the land of neighbours. */
function groundColours(season: Season, random: Random): (place: Place, beyondHedge: number) => Colour {
  const vigour = cropVigour(season, random)
  const grass = softNoise(random, 2.4, 2.4)
  const tufts = softNoise(random, 0.7, 0.7)
  const far = softNoise(random, 22, 12)
  const grassAt = (place: Place): Colour => lit(season.grass, 1 + 0.06 * grass(place) + 0.05 * tufts(place))
  const farAt = (place: Place): Colour => {
    // The neighbour drills up and down the slope.
    const wheel = within(
      Math.abs(((((place.u + 9) % tramlines.every) + tramlines.every) % tramlines.every) - 1.5),
      0.3,
      0.4,
    )
    const crop = lit(season.neighbour, 1 + 0.05 * far(place) + 0.04 * tufts(place))
    return mixed(crop, season.bareSoil, 0.5 * wheel)
  }
  return (place, beyond) => {
    if (beyond > 0) {
      const toLane = distanceTo(lane.line, place)
      const scrap = place.u > 104 && fromScrap(place) < 8
      const verge = within(toLane, lane.width / 2 + 1.2, 0.6)
      const wild = scrap
        ? grassAt(place)
        : mixed(farAt(place), grassAt(place), Math.max(verge, within(beyond, 2, 1)))
      const ruts = 1 + 0.1 * tufts(place)
      const road = mixed(wild, lit(season.bareSoil, 1.1 * ruts), within(toLane, lane.width / 2 - 0.5, 0.6))
      return fedOn(season, place, road)
    }
    const crop = mixed(season.poorCrop, season.richCrop, vigour(place))
    const wheels = mixed(crop, season.bareSoil, 0.7 * wheelShare(place, -beyond))
    const share = eased((-beyond - 1.2) / 0.8)
    const margin = share < 1 ? mixed(grassAt(place), wheels, share) : wheels
    return pond(season, place, margin, grassAt)
  }
}

/** Trampled by cattle about a feeder. */
function fedOn(season: Season, place: Place, ground: Colour): Colour {
  const { middle, radius, width } = feedingRing
  const off = Math.abs(Math.hypot(place.u - middle.u, place.v - middle.v) - radius)
  return mixed(ground, season.bareSoil, 0.75 * within(off, width / 3, width / 2))
}

function pond(season: Season, place: Place, crop: Colour, grassAt: (place: Place) => Colour): Colour {
  const bank = fromPond(place)
  if (bank > 3) return crop
  const water = bank + season.pondFall
  const mud = mixed(season.bareSoil, season.water, 0.35)
  const shore = mixed(mixed(crop, grassAt(place), eased((3 - bank) / 1)), mud, eased((0.2 - bank) / 0.5))
  return mixed(shore, season.water, eased(-water / 0.5))
}

/** Trees along the hedge. */
function hedgeTrees(random: Random): Tree[] {
  const trees: Tree[] = []
  fieldEdge.forEach((from, i) => {
    const to = fieldEdge[(i + 1) % fieldEdge.length]!
    const length = Math.hypot(to.u - from.u, to.v - from.v)
    for (let along = uniform(random, 4, 16); along < length; along += uniform(random, 9, 26)) {
      if (unit(random) < 0.35) continue
      const share = along / length
      const middle = { u: from.u + share * (to.u - from.u), v: from.v + share * (to.v - from.v) }
      trees.push({ middle, radius: uniform(random, 1.8, 4.6) })
    }
  })
  return trees
}

/** Lays hedge, crowns and their shadows over a colour of the ground. */
function treeColours(
  season: Season,
  trees: readonly Tree[],
  random: Random,
): (place: Place, beyondHedge: number, ground: Colour) => Colour {
  const nearHedge = [...loneTrees, ...trees]
  const leaves = softNoise(random, 0.9, 0.9)
  const outline = softNoise(random, 2, 2)
  // Nearest of the crowns, from 1 at its middle to 0 at its ragged edge.
  const crownAt = (place: Place, among: readonly Tree[]): { height: number; tree: Tree | null } => {
    let height = 0
    let found: Tree | null = null
    for (const tree of among) {
      const [du, dv] = [place.u - tree.middle.u, place.v - tree.middle.v]
      if (du * du + dv * dv > 1.96 * tree.radius * tree.radius) continue
      const away = Math.hypot(du, dv)
      const here = 1 - away / (tree.radius * (1 + 0.12 * outline(place)))
      if (here > height) {
        height = here
        found = tree
      }
    }
    return { height, tree: found }
  }
  const hedgeAt = (place: Place, beyond: number): number =>
    within(Math.abs(beyond), 0.75 + 0.25 * outline(place), 0.4)
  return (place, beyond, ground) => {
    const among = Math.abs(beyond) < 12 ? nearHedge : loneTrees
    let colour = ground
    const back = { u: place.u - 1.7 * shadowFall.u, v: place.v - 1.7 * shadowFall.v }
    let shade = Math.abs(beyond) < 4 ? 0.75 * hedgeAt(back, fromHedge(back)) : 0
    for (const { middle, radius } of among) {
      const reach = 1.3 * radius
      const du = place.u - middle.u - reach * shadowFall.u
      const dv = place.v - middle.v - reach * shadowFall.v
      const darkest = 0.9 * radius
      if (du * du + dv * dv < (darkest + 0.5) ** 2)
        shade = Math.max(shade, within(Math.hypot(du, dv), darkest, 0.5))
    }
    colour = lit(colour, 1 - 0.5 * shade)
    const hedge = hedgeAt(place, beyond)
    if (hedge > 0) colour = mixed(colour, lit(season.hedge, 1 + 0.16 * leaves(place)), hedge)
    const { height, tree } = crownAt(place, among)
    if (tree === null) return colour
    // Lit on the side of the sun, dark on the other.
    const { middle, radius } = tree
    const sunny =
      ((middle.u - place.u) * shadowFall.u + (middle.v - place.v) * shadowFall.v) /
      (radius * Math.hypot(shadowFall.u, shadowFall.v))
    const crown = lit(season.hedge, 1.05 + 0.3 * sunny + 0.2 * leaves(place))
    return mixed(colour, crown, eased(height / 0.12))
  }
}
