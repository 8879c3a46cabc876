/** A point in a picture, in pixels as it is shown. */
export interface PicturePoint {
  readonly x: number
  readonly y: number
}

/** What a pixel measures in the plane of the scale bar. */
export interface PictureScale {
  readonly mmPerPixel: number
  /** Standard error of it as a share. */
  readonly relativeError: number
  /** Standard error of a click along x and along y, pixels. */
  readonly clickPixels: number
}

/** A measured value with its standard error: two out of three lie within it, nineteen of twenty within twice. */
export interface Measured {
  readonly value: number
  readonly standardError: number
}

export interface ScaleBar {
  readonly from: PicturePoint
  readonly to: PicturePoint
  /** Length that the two clicks span on the bar, millimetres, and its standard error (0 for a bar taken as true). */
  readonly lengthMm: number
  readonly lengthErrorMm: number
}

/**
 * The scale of a picture from two clicks on a scale bar. Clicks err by about a pixel (common practice), more where the
 * picture is shown small: then in pixels of the picture, not of the screen.
 *
 * Method  first-order propagation (JCGM 100:2008, 5.1.2): the distance of two clicks has variance 2 sigma².
 * Faults  RangeError for clicks on one spot, a length not above zero, or a negative error.
 */
export function pictureScale(
  { from, to, lengthMm, lengthErrorMm }: ScaleBar,
  clickPixels: number,
): PictureScale {
  const pixels = Math.hypot(to.x - from.x, to.y - from.y)
  if (!(pixels > 0 && lengthMm > 0 && lengthErrorMm >= 0 && clickPixels >= 0)) {
    throw new RangeError(`no scale from ${pixels} pixels and ${lengthMm} mm`)
  }
  return {
    mmPerPixel: lengthMm / pixels,
    relativeError: Math.hypot((Math.SQRT2 * clickPixels) / pixels, lengthErrorMm / lengthMm),
    clickPixels,
  }
}

/**
 * Length in millimetres of a line of clicks, open. The error has two parts: the scale's, and each click's by how much its
 * shift along its two legs changes the length.
 *
 * Faults  RangeError for fewer than two points.
 */
export function measuredLength(points: readonly PicturePoint[], scale: PictureScale): Measured {
  if (points.length < 2) throw new RangeError('a length takes two points')
  let pixels = 0
  const pulls = points.map(() => ({ x: 0, y: 0 }))
  for (let i = 1; i < points.length; i++) {
    const [dx, dy] = [points[i]!.x - points[i - 1]!.x, points[i]!.y - points[i - 1]!.y]
    const leg = Math.hypot(dx, dy)
    pixels += leg
    if (leg === 0) continue
    pulls[i]!.x += dx / leg
    pulls[i]!.y += dy / leg
    pulls[i - 1]!.x -= dx / leg
    pulls[i - 1]!.y -= dy / leg
  }
  const pulled = Math.sqrt(pulls.reduce((sum, { x, y }) => sum + x * x + y * y, 0))
  return withError(
    pixels * scale.mmPerPixel,
    scale.clickPixels * pulled * scale.mmPerPixel,
    scale.relativeError,
  )
}

/**
 * Area in square millimetres of a ring of clicks, closed by itself (shoelace). A click's shift changes the area by half the
 * distance of its two neighbours; the scale's error counts twice, since it is squared. An outline that crosses itself gives
 * the difference of its parts: see that it does not.
 *
 * Faults  RangeError for fewer than three points.
 */
export function measuredArea(ring: readonly PicturePoint[], scale: PictureScale): Measured {
  if (ring.length < 3) throw new RangeError('an area takes three points')
  let twice = 0
  let pulls = 0
  for (const [i, point] of ring.entries()) {
    const next = ring[(i + 1) % ring.length]!
    const before = ring[(i + ring.length - 1) % ring.length]!
    twice += point.x * next.y - next.x * point.y
    pulls += (next.x - before.x) ** 2 + (next.y - before.y) ** 2
  }
  const perPixel = scale.mmPerPixel ** 2
  const value = (Math.abs(twice) / 2) * perPixel
  return withError(value, (scale.clickPixels / 2) * Math.sqrt(pulls) * perPixel, 2 * scale.relativeError)
}

const withError = (value: number, clicks: number, relative: number): Measured => ({
  value,
  standardError: Math.hypot(clicks, value * relative),
})

/**
 * How much too large a face appears that stands `aboveMm` nearer to the camera than the scale bar, as a share: 10 mm at 500
 * mm gives 0.0204. Lay the bar level with the face that is measured. This is no random error and is not in the standard error.
 *
 * Faults  RangeError where the face would lie behind the camera.
 */
export function nearnessError(aboveMm: number, cameraMm: number): number {
  if (!(cameraMm > 0 && aboveMm < cameraMm))
    throw new RangeError(`${aboveMm} mm above, camera at ${cameraMm} mm`)
  return cameraMm / (cameraMm - aboveMm) - 1
}
