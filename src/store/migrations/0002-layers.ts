/**
 * Images and terrain models of the survey, by reference to files that lie outside it. One layer may be made of several files:
 * the tiles of a mosaic, a picture with its world file. Told in docs/reference/survey-file.md; not to be changed.
 */
const tables = `
CREATE TABLE layers (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  kind TEXT NOT NULL,
  taken_on TEXT,
  columns INTEGER NOT NULL,
  rows INTEGER NOT NULL,
  bands INTEGER NOT NULL,
  sample_type TEXT NOT NULL,
  no_data REAL,
  orientation INTEGER NOT NULL,
  near_infrared_band INTEGER,
  epsg INTEGER,
  system_text TEXT,
  placing TEXT,
  placed_by TEXT,
  tie_points TEXT,
  expected_error_m REAL,
  attribution TEXT
);
CREATE TABLE layer_files (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT NOT NULL UNIQUE,
  layer_id INTEGER NOT NULL REFERENCES layers(id),
  role TEXT NOT NULL,
  name TEXT NOT NULL,
  path TEXT NOT NULL,
  relative_path TEXT,
  sha256 TEXT NOT NULL,
  size INTEGER NOT NULL,
  original_id INTEGER REFERENCES originals(id),
  first_column INTEGER NOT NULL,
  first_row INTEGER NOT NULL
);
CREATE INDEX layer_files_layer ON layer_files(layer_id);
CREATE INDEX layer_files_sha256 ON layer_files(sha256);
CREATE INDEX layer_files_original ON layer_files(original_id);
`

/** A change by another program counts as a change of user data, as for the other tables of our own. */
const countTriggers = ['layers', 'layer_files']
  .flatMap((table) =>
    ['insert', 'update', 'delete'].map(
      (event) => `
CREATE TRIGGER ${table}_${event} AFTER ${event.toUpperCase()} ON ${table} WHEN (SELECT own FROM writing) = 0
BEGIN
  UPDATE revisions SET everything = everything + 1;
END;`,
    ),
  )
  .join('')

const extensions = ['layers', 'layer_files']
  .map(
    (table) =>
      `INSERT INTO gpkg_extensions VALUES ('${table}', NULL, 'lynchet_survey', 'docs/reference/survey-file.md of Lynchet', 'write-only');`,
  )
  .join('\n')

export const layers0002 = [tables, countTriggers, extensions].join('\n')
