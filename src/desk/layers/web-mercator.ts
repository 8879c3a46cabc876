import type { PlanarGrid } from '#core/geodesy'

/** Radius of the sphere of EPSG:3857 (IOGP guidance note 7-2, method 1024), metres. */
const radius = 6_378_137
const degrees = 180 / Math.PI

type Pair = number[]

/** From a survey's grid to web mercator, metres to metres, and back. Places that the grid does not reach become NaN. */
export function gridToMercator(grid: Pick<PlanarGrid, 'forward' | 'inverse'>): {
  readonly there: (place: Pair) => Pair
  readonly back: (place: Pair) => Pair
} {
  const pair = new Float64Array(2)
  return {
    there: ([easting = 0, northing = 0]) => {
      pair.set([easting, northing])
      grid.inverse(pair, pair)
      const [lon, lat] = [pair[0]!, pair[1]!]
      return [(radius * lon) / degrees, radius * Math.log(Math.tan(Math.PI / 4 + lat / degrees / 2))]
    },
    back: ([x = 0, y = 0]) => {
      pair.set([(x / radius) * degrees, (2 * Math.atan(Math.exp(y / radius)) - Math.PI / 2) * degrees])
      grid.forward(pair, pair)
      return [pair[0]!, pair[1]!]
    },
  }
}
