import { rtreeOf } from './geopackage-tables.ts'
import { changeTriggers, foreign } from './survey-triggers.ts'

/**
 * Leave to search and what it says, plans with their lanes, and what is to be kept clear of. Told in
 * docs/reference/survey-file.md; not to be changed. A search area may be taken out of the survey and what was written for it
 * stays, so `area_id` points to it without holding it.
 */
const tables = `
ALTER TABLE areas ADD COLUMN kind TEXT;
CREATE TABLE permissions (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT,
  name TEXT,
  holder TEXT,
  contact TEXT,
  area_id INTEGER,
  starts_on DATE,
  ends_on DATE,
  terms TEXT,
  finds_share TEXT,
  access TEXT,
  agreement_name TEXT,
  agreement_sha256 TEXT,
  agreement_size INTEGER,
  agreement_original_id INTEGER REFERENCES originals(id),
  made_at DATETIME,
  geom MULTIPOLYGON
);
CREATE TABLE ground_notes (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT,
  permission_id INTEGER REFERENCES permissions(id),
  kind TEXT,
  noted_on DATE,
  note TEXT
);
CREATE TABLE plans (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT,
  name TEXT,
  area_id INTEGER,
  area_name TEXT,
  settings TEXT,
  figures TEXT,
  clashes TEXT,
  made_at DATETIME
);
CREATE TABLE lanes (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT,
  plan_id INTEGER REFERENCES plans(id),
  area_id INTEGER,
  walker INTEGER,
  number INTEGER,
  length_m REAL,
  geom LINESTRING
);
CREATE TABLE constraints (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT,
  name TEXT,
  kind TEXT,
  buffer_m REAL,
  source_name TEXT,
  original_id INTEGER REFERENCES originals(id),
  made_at DATETIME,
  geom GEOMETRY
);
CREATE UNIQUE INDEX permissions_uuid ON permissions(uuid);
CREATE INDEX permissions_original ON permissions(agreement_original_id);
CREATE UNIQUE INDEX ground_notes_uuid ON ground_notes(uuid);
CREATE INDEX ground_notes_permission ON ground_notes(permission_id);
CREATE UNIQUE INDEX plans_uuid ON plans(uuid);
CREATE UNIQUE INDEX lanes_uuid ON lanes(uuid);
CREATE INDEX lanes_plan ON lanes(plan_id);
CREATE UNIQUE INDEX constraints_uuid ON constraints(uuid);
CREATE INDEX constraints_original ON constraints(original_id);
`

const contents = `
INSERT INTO gpkg_contents (table_name, data_type, identifier, description, srs_id) VALUES
  ('permissions', 'features', 'permissions', 'Written leave to search; holders and contacts are private', 4326),
  ('lanes', 'features', 'lanes', 'Planned lines to sweep, in the order of the walk; plan_id points to plans', 4326),
  ('constraints', 'features', 'constraints', 'What is to be left alone, with the metres to keep clear of it', 4326),
  ('ground_notes', 'attributes', 'ground_notes', 'Crop, state of the ground and access by day; permission_id points to permissions', NULL),
  ('plans', 'attributes', 'plans', 'What lanes were planned by; lanes point to them', NULL);
INSERT INTO gpkg_geometry_columns VALUES
  ('permissions', 'geom', 'MULTIPOLYGON', 4326, 0, 0),
  ('lanes', 'geom', 'LINESTRING', 4326, 0, 0),
  ('constraints', 'geom', 'GEOMETRY', 4326, 0, 0);
`

const userColumns = {
  permissions: `id, uuid, geom, name, holder, contact, area_id, starts_on, ends_on, terms, finds_share, access,
    agreement_name, agreement_sha256, agreement_size, agreement_original_id, made_at`,
  ground_notes: 'id, uuid, permission_id, kind, noted_on, note',
  plans: 'id, uuid, name, area_id, area_name, settings, figures, clashes, made_at',
  lanes: 'id, uuid, geom, plan_id, area_id, walker, number, length_m',
  constraints: 'id, uuid, geom, name, kind, buffer_m, source_name, original_id, made_at',
}

/** A change of the kind of an area is a change of the ground, as one of its outline is. */
const areaTrigger = `
CREATE TRIGGER areas_kind_changed AFTER UPDATE OF kind ON areas
  WHEN ${foreign} AND OLD.uuid IS NOT NULL AND OLD.kind IS NOT NEW.kind
BEGIN
  UPDATE revisions SET everything = everything + 1, ground = ground + 1;
  INSERT INTO journal (at, change, table_name, row_key)
    VALUES (strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), 'update', 'areas', OLD.uuid);
END;
`

export const land0004 = [
  tables,
  contents,
  ...['permissions', 'lanes', 'constraints'].map(rtreeOf),
  ...Object.entries(userColumns).map(([table, columns]) => changeTriggers(table, columns)),
  areaTrigger,
].join('\n')
