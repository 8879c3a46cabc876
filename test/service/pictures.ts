import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import sharp, { type Sharp } from 'sharp'
import { onTestFinished } from 'vitest'

/** A folder that goes when the test ends. */
export function folderForTest(): string {
  const folder = mkdtempSync(path.join(tmpdir(), 'layers-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

/** South-west corner of the ground that test pictures lie on: open sea in the Wash, EPSG:27700. */
export const ground = { west: 558_400, south: 347_400 } as const

/** Well-known text of the National Grid as ESRI writes it. */
export const nationalGridText =
  'PROJCS["British_National_Grid",GEOGCS["GCS_OSGB_1936",DATUM["D_OSGB_1936",SPHEROID["Airy_1830",6377563.396,299.3249646]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",400000.0],PARAMETER["False_Northing",-100000.0],PARAMETER["Central_Meridian",-2.0],PARAMETER["Scale_Factor",0.9996012717],PARAMETER["Latitude_Of_Origin",49.0],UNIT["Meter",1.0]]'

/** The colour at a place of a test picture, `across` and `down` from its upper left corner in shares of its size. */
export const rampColour = (across: number, down: number): [number, number, number] => [
  Math.round(250 * across),
  Math.round(250 * down),
  100,
]

/** A picture whose red grows to the right and whose green grows downwards, by the middle of each pixel. */
export function rampPicture(columns: number, rows: number): Sharp {
  const pixels = new Uint8Array(columns * rows * 3)
  for (let i = 0; i < columns * rows; i++) {
    const [x, y] = [i % columns, Math.floor(i / columns)]
    pixels.set(rampColour((x + 0.5) / columns, (y + 0.5) / rows), 3 * i)
  }
  return sharp(pixels, { raw: { width: columns, height: rows, channels: 3 } })
}

/** A world file for a picture north up whose upper left corner is at a place. */
export function worldText(pixelM: number, west: number, north: number): string {
  return [pixelM, 0, 0, -pixelM, west + pixelM / 2, north - pixelM / 2].map((n) => `${n}\n`).join('')
}

/** A picture of 400 x 300 m with its world and .prj files; returns their paths. */
export async function placedPicture(
  folder: string,
  stem = 'field',
  pixelM = 1,
): Promise<[string, string, string]> {
  const [picture, world, system] = [`${stem}.png`, `${stem}.pgw`, `${stem}.prj`].map((name) =>
    path.join(folder, name),
  )
  await rampPicture(400 / pixelM, 300 / pixelM)
    .png()
    .toFile(picture!)
  writeFileSync(world!, worldText(pixelM, ground.west, ground.south + 300))
  writeFileSync(system!, nationalGridText)
  return [picture!, world!, system!]
}

export interface TilePixels {
  readonly channels: number
  /** The channels of a pixel. */
  readonly at: (x: number, y: number) => number[]
}

export async function pixelsOf(png: Uint8Array): Promise<TilePixels> {
  const { data, info } = await sharp(png).raw().toBuffer({ resolveWithObject: true })
  const at = (x: number, y: number): number[] => {
    const from = (y * info.width + x) * info.channels
    return [...data.subarray(from, from + info.channels)]
  }
  return { channels: info.channels, at }
}

/** A ring drawn on the ground: its middle from the south-west corner of `ground`, metres. */
export interface DrawnRing {
  readonly east: number
  readonly north: number
  readonly diameterM: number
  readonly ditchM: number
  /** Grey of its ditch; the ground is 150. */
  readonly grey: number
}

/** A grey picture of 200 x 150 m at half a metre with rings on it, with its world and .prj files; the path of the picture. */
export async function ringPicture(
  folder: string,
  stem: string,
  rings: readonly DrawnRing[],
): Promise<string> {
  const [columns, rows, pixelM] = [400, 300, 0.5]
  const pixels = new Uint8Array(columns * rows)
  for (let i = 0; i < columns * rows; i++) {
    const [east, north] = [((i % columns) + 0.5) * pixelM, (rows - Math.floor(i / columns) - 0.5) * pixelM]
    const on = rings.find((ring) => {
      const far = Math.hypot(east - ring.east, north - ring.north)
      return Math.abs(far - ring.diameterM / 2) <= ring.ditchM / 2
    })
    // A ground that is not quite even, the same each time.
    pixels[i] = (on?.grey ?? 150) + Math.round(4 * Math.sin(i * 12.9898) + 4 * Math.sin(i * 0.37))
  }
  const file = path.join(folder, `${stem}.png`)
  await sharp(pixels, { raw: { width: columns, height: rows, channels: 1 } })
    .png()
    .toFile(file)
  writeFileSync(path.join(folder, `${stem}.pgw`), worldText(pixelM, ground.west, ground.south + 150))
  writeFileSync(path.join(folder, `${stem}.prj`), nationalGridText)
  return file
}
