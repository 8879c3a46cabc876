import { rtreeOf } from './geopackage-tables.ts'
import { changeTriggers, foreign } from './survey-triggers.ts'

/**
 * Marks seen on the layers, and targets to walk to. Told in docs/reference/survey-file.md; not to be changed. A layer may be
 * taken out of the survey and its marks stay, so `layer_id` points to it without holding it.
 */
const tables = `
CREATE TABLE marks (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT,
  kind TEXT,
  state TEXT,
  note TEXT,
  lon REAL,
  lat REAL,
  easting REAL,
  northing REAL,
  grid_epsg INTEGER,
  grid_method TEXT,
  diameter_m REAL,
  ditch_width_m REAL,
  tone TEXT,
  completeness REAL,
  arc_gaps TEXT,
  ellipticity REAL,
  contrast REAL,
  score REAL,
  false_alarms_km2 REAL,
  layer_id INTEGER,
  layer_name TEXT,
  seen_in TEXT,
  settings TEXT,
  seen_again TEXT,
  made_by TEXT,
  edited BOOLEAN,
  made_at DATETIME,
  geom GEOMETRY
);
CREATE TABLE targets (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT,
  name TEXT,
  note TEXT,
  easting REAL,
  northing REAL,
  grid_epsg INTEGER,
  grid_method TEXT,
  mark_id INTEGER REFERENCES marks(id),
  made_at DATETIME,
  geom POINT
);
CREATE UNIQUE INDEX marks_uuid ON marks(uuid);
CREATE UNIQUE INDEX targets_uuid ON targets(uuid);
CREATE INDEX targets_mark ON targets(mark_id);
`

const contents = `
INSERT INTO gpkg_contents (table_name, data_type, identifier, description, srs_id) VALUES
  ('marks', 'features', 'marks', 'Marks seen on images and terrain models: candidates until a person accepts them', 4326),
  ('targets', 'features', 'targets', 'Points worth walking to', 4326);
INSERT INTO gpkg_geometry_columns VALUES
  ('marks', 'geom', 'GEOMETRY', 4326, 0, 0),
  ('targets', 'geom', 'POINT', 4326, 0, 0);
`

/** What follows from a geometry is struck out when another program changes the geometry alone. */
const movedTriggers = `
CREATE TRIGGER marks_moved AFTER UPDATE OF geom ON marks
  WHEN ${foreign} AND OLD.geom IS NOT NEW.geom AND OLD.lon IS NEW.lon AND OLD.lat IS NEW.lat
BEGIN
  UPDATE marks SET lon = NULL, lat = NULL, easting = NULL, northing = NULL, grid_epsg = NULL, grid_method = NULL,
    diameter_m = NULL WHERE id = NEW.id;
END;
CREATE TRIGGER targets_moved AFTER UPDATE OF geom ON targets
  WHEN ${foreign} AND substr(OLD.geom, -16) IS NOT substr(NEW.geom, -16)
    AND OLD.easting IS NEW.easting AND OLD.northing IS NEW.northing
BEGIN
  UPDATE targets SET easting = NULL, northing = NULL, grid_epsg = NULL, grid_method = NULL WHERE id = NEW.id;
END;
`

const userColumns = {
  marks: `id, uuid, geom, kind, state, note, lon, lat, easting, northing, grid_epsg, grid_method, diameter_m,
    ditch_width_m, tone, completeness, arc_gaps, ellipticity, contrast, score, false_alarms_km2, layer_id, layer_name,
    seen_in, settings, seen_again, made_by, edited, made_at`,
  targets: 'id, uuid, geom, name, note, easting, northing, grid_epsg, grid_method, mark_id, made_at',
}

export const marks0003 = [
  tables,
  contents,
  rtreeOf('marks'),
  rtreeOf('targets'),
  changeTriggers('marks', userColumns.marks),
  changeTriggers('targets', userColumns.targets),
  movedTriggers,
].join('\n')
