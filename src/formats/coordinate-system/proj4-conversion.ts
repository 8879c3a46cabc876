import proj4, { type Converter } from 'proj4'

/** Fills `out`, which may be the input, with what interleaved pairs become; NaN pairs where they cannot be converted. */
export type PairConversion = (xy: Float64Array, out: Float64Array) => void

/** Metres; degrees times this are about metres. A projection left far behind comes back elsewhere, which a shift of datum never does. */
const furthestBack = 1
const metresPerDegree = 111_320

/**
 * Longitude and latitude on WGS84 of pairs in a system in proj4's words; null for words that proj4 refuses. For a system
 * without parameters of datum, the same on its own datum. `scale` is what figures of longitude and latitude are multiplied by.
 *
 * Each pair is taken there and back, and dropped where it does not return within a metre: outside their reach projections
 * give figures that look like any other. Cost: about a microsecond a pair.
 */
export function pairConversion(words: string, scale: number): PairConversion | null {
  const angles = words.startsWith('+proj=longlat')
  const unit = Number(/\+to_meter=(\S+)/.exec(words)?.[1] ?? metresPerDegree)
  const factor = angles ? scale : 1
  let converter: Converter
  try {
    // Without parameters of its own the target leaves the source's datum as it is.
    const target = /\+(towgs84|datum)=/.test(words) ? 'WGS84' : '+proj=longlat +a=6378137 +rf=298.257223563'
    converter = proj4(words, target)
  } catch {
    return null
  }
  return (xy, out) => {
    for (let i = 0; i + 1 < xy.length; i += 2) {
      const given: [number, number] = [xy[i]! * factor, xy[i + 1]! * factor]
      const [lon, lat] = there(converter, given)
      const [x, y] = back(converter, [lon, lat])
      const good =
        Math.abs(lat) <= 90 &&
        Math.abs(lon) <= 360 &&
        Math.hypot(x - given[0], y - given[1]) * unit <= furthestBack
      out[i] = good ? wrapped(lon) : Number.NaN
      out[i + 1] = good ? lat : Number.NaN
    }
  }
}

const nowhere: [number, number] = [Number.NaN, Number.NaN]

/** proj4 throws for figures that are not finite, and where a projection gives up. */
function there(converter: Converter, pair: [number, number]): [number, number] {
  try {
    return converter.forward(pair)
  } catch {
    return nowhere
  }
}

function back(converter: Converter, pair: [number, number]): [number, number] {
  try {
    return converter.inverse(pair)
  } catch {
    return nowhere
  }
}

function wrapped(lon: number): number {
  return lon > 180 ? lon - 360 : lon < -180 ? lon + 360 : lon
}
