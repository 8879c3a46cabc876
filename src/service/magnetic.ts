import { magvar } from 'magvar'

/** The World Magnetic Model 2025 holds from 2025.0 up to 2030.0. */
const validFrom = Date.UTC(2025, 0, 1)
const validUntil = Date.UTC(2030, 0, 1)

/** Beyond this latitude a compass is of little use and nothing is told. A stand-in: the model itself warns by the strength of the field. */
const steadyLatitude = 80

/** Bearing of magnetic north from true north, for a compass. */
export interface MagneticNorth {
  /** Degrees, positive east. */
  readonly declination: number
  readonly model: 'WMM2025'
}

/**
 * Where a compass points at a place on a day, at ground level; null outside the years of the model and near the poles, where
 * none can be told.
 *
 * Method  World Magnetic Model 2025 (NOAA/NCEI and British Geological Survey) by the package magvar.
 * Error   the model's own: about half a degree in Britain (from memory); iron nearby and local rock come on top.
 */
export function magneticNorth(lon: number, lat: number, day: Date): MagneticNorth | null {
  const time = day.getTime()
  if (!(time >= validFrom && time < validUntil) || !(Math.abs(lat) <= steadyLatitude)) return null
  return { declination: magvar(lat, lon, 0, day), model: 'WMM2025' }
}
