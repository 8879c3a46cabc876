import type { Connection } from './connection.ts'

interface TransverseMercator {
  readonly name: string
  /** Well-known text of the geographic system below. */
  readonly geographic: string
  readonly latitude: number
  readonly longitude: number
  readonly scale: number
  readonly east: number
  readonly north: number
}

function geographic(name: string, epsg: number, datum: string, datumEpsg: number, spheroid: string): string {
  return `GEOGCS["${name}",DATUM["${datum}",${spheroid},AUTHORITY["EPSG","${datumEpsg}"]],PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],AUTHORITY["EPSG","${epsg}"]]`
}

const wgs84 = geographic(
  'WGS 84',
  4326,
  'WGS_1984',
  6326,
  'SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]]',
)

/** Parameters as the EPSG register states them. */
const nationalGrids: Readonly<Record<number, TransverseMercator>> = {
  27700: {
    name: 'OSGB36 / British National Grid',
    geographic: geographic(
      'OSGB36',
      4277,
      'Ordnance_Survey_of_Great_Britain_1936',
      6277,
      'SPHEROID["Airy 1830",6377563.396,299.3249646,AUTHORITY["EPSG","7001"]]',
    ),
    latitude: 49,
    longitude: -2,
    scale: 0.9996012717,
    east: 400_000,
    north: -100_000,
  },
  2157: {
    name: 'IRENET95 / Irish Transverse Mercator',
    geographic: geographic(
      'IRENET95',
      4173,
      'IRENET95',
      6173,
      'SPHEROID["GRS 1980",6378137,298.257222101,AUTHORITY["EPSG","7019"]]',
    ),
    latitude: 53.5,
    longitude: -8,
    scale: 0.99982,
    east: 600_000,
    north: 750_000,
  },
  29903: {
    name: 'TM75 / Irish Grid',
    geographic: geographic(
      'TM75',
      4300,
      'Geodetic_Datum_of_1965',
      6300,
      'SPHEROID["Airy Modified 1849",6377340.189,299.3249646,AUTHORITY["EPSG","7002"]]',
    ),
    latitude: 53.5,
    longitude: -8,
    scale: 1.000035,
    east: 200_000,
    north: 250_000,
  },
}

function utmZone(epsg: number): TransverseMercator | null {
  const zone = epsg % 100
  const south = epsg >= 32_701 && epsg <= 32_760
  if (!south && !(epsg >= 32_601 && epsg <= 32_660)) return null
  return {
    name: `WGS 84 / UTM zone ${zone}${south ? 'S' : 'N'}`,
    geographic: wgs84,
    latitude: 0,
    longitude: zone * 6 - 183,
    scale: 0.9996,
    east: 500_000,
    north: south ? 10_000_000 : 0,
  }
}

/** Name and well-known text (OGC 01-009) of a planar grid; null for one that the store has no text for. */
export function gridDefinition(epsg: number): { readonly name: string; readonly wkt: string } | null {
  const grid = nationalGrids[epsg] ?? utmZone(epsg)
  if (grid === null) return null
  const wkt = `PROJCS["${grid.name}",${grid.geographic},PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",${grid.latitude}],PARAMETER["central_meridian",${grid.longitude}],PARAMETER["scale_factor",${grid.scale}],PARAMETER["false_easting",${grid.east}],PARAMETER["false_northing",${grid.north}],UNIT["metre",1,AUTHORITY["EPSG","9001"]],AXIS["Easting",EAST],AXIS["Northing",NORTH],AUTHORITY["EPSG","${epsg}"]]`
  return { name: grid.name, wkt }
}

/** Adds the grid to gpkg_spatial_ref_sys where it is not there yet; one without a text is marked undefined, as the standard allows. */
export function registerGrid(to: Connection, epsg: number): void {
  const grid = gridDefinition(epsg)
  to.run(
    'INSERT OR IGNORE INTO gpkg_spatial_ref_sys VALUES (?, ?, ?, ?, ?, NULL)',
    grid?.name ?? `EPSG:${epsg}`,
    epsg,
    'EPSG',
    epsg,
    grid?.wkt ?? 'undefined',
  )
}
