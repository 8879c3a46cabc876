import { passColours } from '#contract'

type Rgb = readonly number[]

/**
 * Gives each pixel the ramp's colour for the step whose colour the server painted it in, and leaves its opacity. The nearest
 * of the server's colours counts, since a canvas keeps colours of faint pixels only roughly. RGBA bytes, changed in place.
 */
export function repaintCover(pixels: Uint8ClampedArray, ramp: readonly Rgb[]): void {
  const painted = passColours.map(({ rgb }) => rgb)
  for (let i = 0; i < pixels.length; i += 4) {
    if (pixels[i + 3] === 0) continue
    let [best, least] = [0, Infinity]
    for (let step = 0; step < painted.length; step += 1) {
      const [r, g, b] = painted[step]!
      const far = (pixels[i]! - r) ** 2 + (pixels[i + 1]! - g) ** 2 + (pixels[i + 2]! - b) ** 2
      if (far < least) [best, least] = [step, far]
    }
    const [r = 0, g = 0, b = 0] = ramp[best] ?? []
    pixels[i] = r
    pixels[i + 1] = g
    pixels[i + 2] = b
  }
}

/** One tile from the server, repainted. Faults: Error where it does not come or is no picture. */
export async function paintedTile(address: string, ramp: readonly Rgb[]): Promise<HTMLCanvasElement> {
  const reply = await fetch(address)
  if (!reply.ok) throw new Error(`no tile: ${reply.status}`)
  const picture = await createImageBitmap(await reply.blob())
  const canvas = document.createElement('canvas')
  canvas.width = picture.width
  canvas.height = picture.height
  const pen = canvas.getContext('2d', { willReadFrequently: true })
  if (!pen) return canvas
  pen.drawImage(picture, 0, 0)
  const image = pen.getImageData(0, 0, canvas.width, canvas.height)
  repaintCover(image.data, ramp)
  pen.putImageData(image, 0, 0)
  return canvas
}
