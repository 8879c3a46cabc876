import { shareAlong, type TextureChip, textureBlocks } from './texture-blocks.ts'

/** The bearing that the texture of an image runs along. */
export interface PloughBearing {
  /** Degrees from the image's north, 0 up to 180; NaN where the image has no texture at all. */
  readonly bearing: number
  /** Share of the texture that straight lines along it explain: 0 none, 1 all of it. */
  readonly explained: number
  /** Parts of the image that show any texture, and how many of them show it within 10 degrees of the bearing. */
  readonly parts: number
  readonly agreeing: number
  /** How far those that agree differ from it, root mean square, degrees; NaN where none does. */
  readonly spread: number
  /** One less the chance, at most, that so many parts of an image without any direction agree. */
  readonly confidence: number
}

/** Blocks along each side that are asked on their own for their direction. */
const blocksAcross = 4
/** Fewer cells along a side than this show no direction. */
const fewest = 16
/** Bearings are tried a degree apart, and near the best ones more finely. */
const fineStep = 0.25
/** Parts within so many degrees agree: by chance one in nine does. */
const agreeWithin = 10
const byChance = (2 * agreeWithin) / 180

/**
 * The bearing of plough lines, drill rows, tramlines or any other straight parallel texture in a chip of an image or terrain model.
 *
 * Method  each of 4 x 4 blocks, its soft changes taken off, is summed along lines of each bearing; the share of its variance that lies
 *         between lines is largest along the texture. The bearing is that with the largest share over all blocks; the confidence is that of the
 *         count of blocks whose own best bearing is near, among n that take any: at most n P(X >= k), X binomial of n and 1/9.
 * Source  docs/methods/lanes.md#plough-lines
 * Limits  the strongest straight texture wins, whatever made it. Lines must be straight over a block.
 * Cost    some 200 passes over the cells: 0.4 s for a million.
 * Faults  RangeError where the cells are not columns x rows, or fewer than 16 along a side.
 */
export function ploughBearing(chip: TextureChip): PloughBearing {
  const { columns, rows } = chip
  if (!(columns >= fewest && rows >= fewest))
    throw new RangeError(`a texture needs ${fewest} x ${fewest} cells, got ${columns} x ${rows}`)
  const blocks = textureBlocks(chip, blocksAcross)
  if (blocks.length === 0)
    return {
      bearing: Number.NaN,
      explained: 0,
      parts: 0,
      agreeing: 0,
      spread: Number.NaN,
      confidence: 0,
    }
  const shares = blocks.map((block) =>
    Float64Array.from({ length: 180 }, (_, bearing) => shareAlong(block, bearing)),
  )
  const mean = (bearing: number): number =>
    blocks.reduce((sum, block) => sum + shareAlong(block, bearing), 0) / blocks.length
  const together = Float64Array.from({ length: 180 }, (_, b) => shares.reduce((sum, own) => sum + own[b]!, 0))
  const [bearing, explained] = finest(mean, largest(together))
  const apart = shares.map((own) => Math.abs(((largest(own) - bearing + 270) % 180) - 90))
  const near = apart.filter((degrees) => degrees <= agreeWithin)
  return {
    bearing,
    explained,
    parts: blocks.length,
    agreeing: near.length,
    spread: Math.sqrt(near.reduce((sum, degrees) => sum + degrees ** 2, 0) / near.length),
    confidence: 1 - chanceOf(near.length, blocks.length),
  }
}

/** The chance, at most, that `agreeing` or more of `parts` come to lie within reach of the bearing that most come near to. */
function chanceOf(agreeing: number, parts: number): number {
  let tail = 0
  for (let k = agreeing, term = 0; k <= parts; k++) {
    term = byChance ** k * (1 - byChance) ** (parts - k)
    for (let i = 1; i <= k; i++) term *= (parts - k + i) / i
    tail += term
  }
  // Any part may be the one that the others come near to.
  return Math.min(1, parts * tail)
}

function largest(values: Float64Array): number {
  let best = 0
  for (let i = 1; i < values.length; i++) if (values[i]! > values[best]!) best = i
  return best
}

/** The best bearing about a whole degree, and its share. */
function finest(share: (bearing: number) => number, whole: number): [bearing: number, share: number] {
  let [bearing, most] = [whole, -Infinity]
  for (let b = whole - 1.5; b <= whole + 1.5; b += fineStep) {
    const own = share(b)
    if (own > most) [bearing, most] = [b, own]
  }
  return [((bearing % 180) + 180) % 180, most]
}
