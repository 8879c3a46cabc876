/** Tables of GeoPackage 1.3 annex C, as the standard defines them. Written once by migration 0001; not to be changed. */
export const geopackageTables = `
CREATE TABLE gpkg_spatial_ref_sys (
  srs_name TEXT NOT NULL,
  srs_id INTEGER NOT NULL PRIMARY KEY,
  organization TEXT NOT NULL,
  organization_coordsys_id INTEGER NOT NULL,
  definition TEXT NOT NULL,
  description TEXT
);
CREATE TABLE gpkg_contents (
  table_name TEXT NOT NULL PRIMARY KEY,
  data_type TEXT NOT NULL,
  identifier TEXT UNIQUE,
  description TEXT DEFAULT '',
  last_change DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')),
  min_x DOUBLE,
  min_y DOUBLE,
  max_x DOUBLE,
  max_y DOUBLE,
  srs_id INTEGER,
  CONSTRAINT fk_gc_r_srs_id FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id)
);
CREATE TABLE gpkg_geometry_columns (
  table_name TEXT NOT NULL,
  column_name TEXT NOT NULL,
  geometry_type_name TEXT NOT NULL,
  srs_id INTEGER NOT NULL,
  z TINYINT NOT NULL,
  m TINYINT NOT NULL,
  CONSTRAINT pk_geom_cols PRIMARY KEY (table_name, column_name),
  CONSTRAINT uk_gc_table_name UNIQUE (table_name),
  CONSTRAINT fk_gc_tn FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name),
  CONSTRAINT fk_gc_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys (srs_id)
);
CREATE TABLE gpkg_extensions (
  table_name TEXT,
  column_name TEXT,
  extension_name TEXT NOT NULL,
  definition TEXT NOT NULL,
  scope TEXT NOT NULL,
  CONSTRAINT ge_tce UNIQUE (table_name, column_name, extension_name)
);
`

/**
 * R-tree index of a layer and the triggers that keep it: annex F.3, with the set of triggers that version 1.4 puts in
 * place of two faulty ones and recommends for older versions too (update5 for update3, update6 and update7 for update1).
 */
export function rtreeOf(table: string): string {
  const rtree = `rtree_${table}_geom`
  const filled = (row: string) => `(${row}.geom NOTNULL AND NOT ST_IsEmpty(${row}.geom))`
  const hollow = (row: string) => `(${row}.geom ISNULL OR ST_IsEmpty(${row}.geom))`
  const values = 'NEW.id, ST_MinX(NEW.geom), ST_MaxX(NEW.geom), ST_MinY(NEW.geom), ST_MaxY(NEW.geom)'
  return `
CREATE VIRTUAL TABLE ${rtree} USING rtree(id, minx, maxx, miny, maxy);
CREATE TRIGGER ${rtree}_insert AFTER INSERT ON ${table}
  WHEN (new.geom NOT NULL AND NOT ST_IsEmpty(NEW.geom))
BEGIN
  INSERT OR REPLACE INTO ${rtree} VALUES (${values});
END;
CREATE TRIGGER ${rtree}_update2 AFTER UPDATE OF geom ON ${table}
  WHEN OLD.id = NEW.id AND ${hollow('NEW')}
BEGIN
  DELETE FROM ${rtree} WHERE id = OLD.id;
END;
CREATE TRIGGER ${rtree}_update4 AFTER UPDATE ON ${table}
  WHEN OLD.id != NEW.id AND ${hollow('NEW')}
BEGIN
  DELETE FROM ${rtree} WHERE id IN (OLD.id, NEW.id);
END;
CREATE TRIGGER ${rtree}_update5 AFTER UPDATE ON ${table}
  WHEN OLD.id != NEW.id AND ${filled('NEW')}
BEGIN
  DELETE FROM ${rtree} WHERE id = OLD.id;
  INSERT OR REPLACE INTO ${rtree} VALUES (${values});
END;
CREATE TRIGGER ${rtree}_update6 AFTER UPDATE OF geom ON ${table}
  WHEN OLD.id = NEW.id AND ${filled('NEW')} AND ${filled('OLD')}
BEGIN
  UPDATE ${rtree} SET minx = ST_MinX(NEW.geom), maxx = ST_MaxX(NEW.geom),
    miny = ST_MinY(NEW.geom), maxy = ST_MaxY(NEW.geom) WHERE id = NEW.id;
END;
CREATE TRIGGER ${rtree}_update7 AFTER UPDATE OF geom ON ${table}
  WHEN OLD.id = NEW.id AND ${filled('NEW')} AND ${hollow('OLD')}
BEGIN
  INSERT INTO ${rtree} VALUES (${values});
END;
CREATE TRIGGER ${rtree}_delete AFTER DELETE ON ${table}
  WHEN old.geom NOT NULL
BEGIN
  DELETE FROM ${rtree} WHERE id = OLD.id;
END;
INSERT INTO gpkg_extensions VALUES
  ('${table}', 'geom', 'gpkg_rtree_index', 'http://www.geopackage.org/spec130/#extension_rtree', 'write-only');
`
}
