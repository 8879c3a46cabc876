import { geopackageTables, rtreeOf } from './geopackage-tables.ts'
import { layerTables, plainTables } from './survey-tables.ts'
import { surveyTriggers } from './survey-triggers.ts'

const contents = `
INSERT INTO gpkg_spatial_ref_sys VALUES
  ('Undefined Cartesian SRS', -1, 'NONE', -1, 'undefined', 'undefined Cartesian coordinate reference system'),
  ('Undefined geographic SRS', 0, 'NONE', 0, 'undefined', 'undefined geographic coordinate reference system'),
  ('WGS 84', 4326, 'EPSG', 4326, 'GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],AUTHORITY["EPSG","6326"]],PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],AXIS["Latitude",NORTH],AXIS["Longitude",EAST],AUTHORITY["EPSG","4326"]]', 'longitude and latitude in degrees on the WGS 84 ellipsoid');
INSERT INTO gpkg_contents (table_name, data_type, identifier, description, srs_id) VALUES
  ('areas', 'features', 'areas', 'Ground to be searched', 4326),
  ('tracks', 'features', 'tracks', 'Walked tracks and planned lines; z is elevation in metres, m is seconds since 1970 UTC', 4326),
  ('findspots', 'features', 'findspots', 'Where something was found', 4326),
  ('gaps', 'features', 'gaps', 'Ground in the areas that the last cover did not reach; made anew with each cover', 4326),
  ('finds', 'attributes', 'finds', 'What was found; findspot_id points to findspots', NULL);
INSERT INTO gpkg_geometry_columns VALUES
  ('areas', 'geom', 'MULTIPOLYGON', 4326, 0, 0),
  ('tracks', 'geom', 'MULTILINESTRING', 4326, 1, 1),
  ('findspots', 'geom', 'POINT', 4326, 0, 0),
  ('gaps', 'geom', 'POLYGON', 4326, 0, 0);
`

/** Our own tables, said to other programs as an extension of the GeoPackage (clause 2.3): reading them is harmless, writing is not. */
const ownTables = [
  'originals',
  'survey',
  'settings',
  'find_numbers',
  'covers',
  'actions',
  'journal',
  'revisions',
  'writing',
  'migrations',
]
const extensions = ownTables
  .map(
    (table) =>
      `INSERT INTO gpkg_extensions VALUES ('${table}', NULL, 'lynchet_survey', 'docs/reference/survey-file.md of Lynchet', 'write-only');`,
  )
  .join('\n')

/** The first form of a survey. */
export const survey0001 = [
  geopackageTables,
  layerTables,
  plainTables,
  contents,
  ...['areas', 'tracks', 'findspots', 'gaps'].map(rtreeOf),
  surveyTriggers,
  extensions,
].join('\n')
