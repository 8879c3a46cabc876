import type { FileContent } from '#core/record'

/** What a writer writes: areas (gaps are areas too), tracks and findspots, all with longitude and latitude (EPSG:4326). */
export type Features = Pick<FileContent, 'areas' | 'tracks' | 'findspots'>

/** Faults: RangeError where something is not in EPSG:4326; planar things are brought there by the caller. */
export function requireLonLat({ areas, tracks, findspots }: Features): void {
  for (const { epsg } of [...areas, ...tracks, ...findspots]) {
    if (epsg !== 4326) throw new RangeError(`files are written in EPSG:4326, got EPSG:${epsg}`)
  }
}
