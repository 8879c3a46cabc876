/** A place in a picture, from its upper left corner. */
export type Pixel = readonly [x: number, y: number]

/** Length of the line between two points, in pixels. */
export function pixelLength([a, b]: readonly Pixel[]): number {
  return a && b ? Math.hypot(b[0] - a[0], b[1] - a[1]) : 0
}

/** Area of the polygon, in square pixels, by the shoelace sum. */
export function pixelArea(points: readonly Pixel[]): number {
  const twice = points.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = points[(i + 1) % points.length]!
    return sum + x * nextY - nextX * y
  }, 0)
  return Math.abs(twice) / 2
}

const figures = (value: number): string => String(Number(value.toPrecision(3)))

/** What was measured, in words: `12.5 mm`; empty until there are enough points and a scale. */
export function figureText(
  kind: 'length' | 'area',
  points: readonly Pixel[],
  mmPerPixel: number | null,
): string {
  if (mmPerPixel === null || points.length < (kind === 'length' ? 2 : 3)) return ''
  return kind === 'length'
    ? `${figures(pixelLength(points) * mmPerPixel)} mm`
    : `${figures(pixelArea(points) * mmPerPixel ** 2)} mm²`
}
