/**
 * Layers and tables of a survey, as migration 0001 makes them; not to be changed. Told in
 * docs/reference/survey-file.md. Large columns stand last, so that listing a layer does not read through them.
 */
export const layerTables = `
CREATE TABLE areas (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT,
  name TEXT,
  attributes TEXT,
  original_id INTEGER REFERENCES originals(id),
  given_epsg INTEGER,
  given_check INTEGER,
  given_xy BLOB,
  geom MULTIPOLYGON
);
CREATE TABLE tracks (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT,
  name TEXT,
  walked BOOLEAN,
  fixes INTEGER,
  started_at DATETIME,
  ended_at DATETIME,
  attributes TEXT,
  original_id INTEGER REFERENCES originals(id),
  given_epsg INTEGER,
  given_check INTEGER,
  detail TEXT,
  hdop BLOB,
  given_xy BLOB,
  geom MULTILINESTRING
);
CREATE TABLE findspots (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT,
  name TEXT,
  easting REAL,
  northing REAL,
  grid_epsg INTEGER,
  grid_method TEXT,
  accuracy_m REAL,
  elevation_m REAL,
  found_at DATETIME,
  note TEXT,
  attributes TEXT,
  original_id INTEGER REFERENCES originals(id),
  geom POINT
);
CREATE TABLE gaps (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  area_m2 REAL,
  cover_uuid TEXT,
  geom POLYGON
);
CREATE UNIQUE INDEX areas_uuid ON areas(uuid);
CREATE INDEX areas_original ON areas(original_id);
CREATE UNIQUE INDEX tracks_uuid ON tracks(uuid);
CREATE INDEX tracks_original ON tracks(original_id);
CREATE UNIQUE INDEX findspots_uuid ON findspots(uuid);
CREATE INDEX findspots_original ON findspots(original_id);
`

export const plainTables = `
CREATE TABLE finds (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT,
  number TEXT,
  given_number TEXT,
  findspot_id INTEGER REFERENCES findspots(id),
  object TEXT,
  material TEXT,
  period TEXT,
  count INTEGER,
  weight_g REAL,
  depth_m REAL
);
CREATE UNIQUE INDEX finds_uuid ON finds(uuid);
CREATE UNIQUE INDEX finds_number ON finds(number);
CREATE INDEX finds_findspot ON finds(findspot_id);
CREATE TABLE originals (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  kind TEXT NOT NULL,
  sha256 TEXT NOT NULL UNIQUE,
  size INTEGER NOT NULL,
  imported_at DATETIME NOT NULL,
  bytes BLOB NOT NULL
);
CREATE TABLE survey (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  uuid TEXT NOT NULL,
  code TEXT NOT NULL,
  title TEXT NOT NULL,
  grid_epsg INTEGER,
  demo BOOLEAN NOT NULL,
  created_at DATETIME NOT NULL
);
CREATE TABLE settings (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  key TEXT NOT NULL UNIQUE,
  value TEXT NOT NULL
);
CREATE TABLE find_numbers (
  year INTEGER PRIMARY KEY,
  last INTEGER NOT NULL
);
CREATE TABLE covers (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT NOT NULL UNIQUE,
  made_at DATETIME NOT NULL,
  ground_revision INTEGER NOT NULL,
  settings TEXT NOT NULL,
  figures TEXT NOT NULL,
  frame TEXT NOT NULL,
  passes BLOB NOT NULL
);
CREATE TABLE actions (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  what TEXT NOT NULL,
  at DATETIME NOT NULL,
  by_whom TEXT NOT NULL,
  undoes INTEGER UNIQUE REFERENCES actions(id)
);
CREATE TABLE journal (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  action_id INTEGER REFERENCES actions(id),
  at DATETIME NOT NULL,
  change TEXT NOT NULL,
  table_name TEXT NOT NULL,
  row_key TEXT,
  before TEXT,
  after TEXT
);
CREATE INDEX journal_action ON journal(action_id);
CREATE INDEX journal_row ON journal(row_key);
CREATE TABLE revisions (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  everything INTEGER NOT NULL,
  ground INTEGER NOT NULL
);
INSERT INTO revisions VALUES (1, 0, 0);
CREATE TABLE writing (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  own BOOLEAN NOT NULL
);
INSERT INTO writing VALUES (1, 0);
`
