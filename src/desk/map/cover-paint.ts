type Rgb = readonly number[]

/** How much of what lies below the cover is hidden by ground wholly covered. */
const opacity = 0.8

/** Turns the steps of a tile (contract/cover-tiles.ts, visit-tiles.ts) into the ramp's colours. RGBA bytes, changed in place. */
export function paintSteps(pixels: Uint8ClampedArray, ramp: readonly Rgb[], greyPerStep: number): void {
  for (let i = 0; i < pixels.length; i += 4) {
    const alpha = pixels[i + 3]!
    if (alpha === 0) continue
    // A canvas keeps the grey of faint pixels only roughly, so the nearest step is taken.
    const step = Math.min(ramp.length, Math.max(1, Math.round(pixels[i]! / greyPerStep)))
    const [r = 0, g = 0, b = 0] = ramp[step - 1] ?? []
    pixels[i] = r
    pixels[i + 1] = g
    pixels[i + 2] = b
    pixels[i + 3] = alpha * opacity
  }
}

/** One tile from the server in the ramp's colours. Faults: Error where it does not come or is no picture. */
export async function paintedTile(
  address: string,
  ramp: readonly Rgb[],
  greyPerStep: number,
): Promise<HTMLCanvasElement> {
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
  paintSteps(image.data, ramp, greyPerStep)
  pen.putImageData(image, 0, 0)
  return canvas
}
