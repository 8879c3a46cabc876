/** The pictures that world files stand beside. */
const pictureEnds = new Set(['jpg', 'jpeg', 'png', 'tif', 'tiff', 'gif', 'bmp', 'webp'])

/**
 * The ends that a world file of such a picture may have: first and last letter and w (`jgw`, `tfw`), the whole end and w (`jpgw`,
 * `tiffw`), or `wld` for any. Those of `jpg` and `jpeg`, and of `tif` and `tiff`, serve each other.
 */
function worldEnds(pictureEnd: string): string[] {
  const same = [
    ['jpg', 'jpeg'],
    ['tif', 'tiff'],
  ].find((pair) => pair.includes(pictureEnd)) ?? [pictureEnd]
  const ordered = [pictureEnd, ...same.filter((end) => end !== pictureEnd)]
  return [...new Set([...ordered.flatMap((end) => [`${end[0]}${end.at(-1)}w`, `${end}w`]), 'wld'])]
}

const allWorldEnds = new Set([...pictureEnds].flatMap(worldEnds))

/** A name in two at its last point, the end in small letters. */
function parted(name: string): { stem: string; end: string } {
  const at = name.lastIndexOf('.')
  return at < 0 ? { stem: name, end: '' } : { stem: name.slice(0, at), end: name.slice(at + 1).toLowerCase() }
}

/** True where a name has the end of a world file. */
export function isWorldFileName(name: string): boolean {
  return allWorldEnds.has(parted(name).end)
}

export interface WorldFileChoice {
  /** The world file of the picture; null for none. */
  readonly own: string | null
  /** World files of the picture's name that belong to a picture of another kind: `map.tfw` beside `map.png`. Not to be used unasked. */
  readonly ofOthers: readonly string[]
}

/**
 * Which of some file names is the world file of a picture: the same name before the last point, and an end that goes with the picture's. Big
 * and small letters count as the same, but the name spelt just so goes first; among ends, the order is that of `jgw`, `jpgw`, `wld`.
 * `photo.jpg.wld` and `photo.jpg.jgw`, with the picture's whole name before the end, are taken too, last.
 *
 * @example worldFileFor('Field.JPG', ['field.jgw', 'field.tfw']) // { own: 'field.jgw', ofOthers: ['field.tfw'] }
 */
export function worldFileFor(pictureName: string, names: readonly string[]): WorldFileChoice {
  const { stem, end } = parted(pictureName)
  const ends = worldEnds(end)
  const ranked: { name: string; rank: number }[] = []
  const ofOthers: string[] = []
  for (const name of names) {
    const world = parted(name)
    if (!allWorldEnds.has(world.end)) continue
    const byStem = same(world.stem, stem)
    if (!byStem && !same(world.stem, pictureName)) continue
    const at = pictureEnds.has(end) ? ends.indexOf(world.end) : -1
    const spelt = world.stem === (byStem ? stem : pictureName) ? 0 : 1
    if (at < 0) ofOthers.push(name)
    else ranked.push({ name, rank: (byStem ? 0 : 100) + 10 * spelt + at })
  }
  ranked.sort((a, b) => a.rank - b.rank)
  return { own: ranked[0]?.name ?? null, ofOthers }
}

const same = (a: string, b: string): boolean => a.toLowerCase() === b.toLowerCase()
