/** Bearings of the ground that `ploughedGrid` gives, degrees from grid north. */
export const ploughed = { plough: 60, contour: 110 } as const

/**
 * A terrain model as ASCII grid of 1 m cells, 240 by 160 from easting 558000 and northing 347000: a slope of about 3 degrees whose contour
 * runs along 110, with ridges 6 cm high and 4 m apart along 60. `level` leaves both out.
 */
export function ploughedGrid(level = false): string {
  const [columns, rows] = [240, 160]
  const across = (bearing: number, east: number, north: number): number =>
    east * Math.cos((bearing * Math.PI) / 180) - north * Math.sin((bearing * Math.PI) / 180)
  const line = (row: number): string =>
    Array.from({ length: columns }, (_, column) => {
      const [east, north] = [column + 0.5, rows - row - 0.5]
      const slope = 0.05 * across(ploughed.contour, east, north)
      const ridges = 0.03 * Math.sin((2 * Math.PI * across(ploughed.plough, east, north)) / 4)
      return (level ? 31 : 31 + slope + ridges).toFixed(3)
    }).join(' ')
  const head = `ncols ${columns}\nnrows ${rows}\nxllcorner 558000\nyllcorner 347000\ncellsize 1\n`
  return `${head}${Array.from({ length: rows }, (_, row) => line(row)).join('\n')}\n`
}
