import { changeTriggers, foreign, freshUuid } from './survey-triggers.ts'

/**
 * Visits: who walked when, with what, in what weather. Tracks and findspots name theirs by UUID, so that no order of undoing or of other
 * programs' work can leave a row that may not stand. Told in docs/reference/survey-file.md; not to be changed.
 */
const tables = `
CREATE TABLE visits (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT,
  day TEXT,
  person TEXT,
  swath_m REAL,
  coil_m REAL,
  rate_hz REAL,
  error_m REAL,
  own_chance REAL,
  clock_offset_s REAL,
  cut_drives BOOLEAN,
  weather TEXT,
  ground TEXT
);
CREATE UNIQUE INDEX visits_uuid ON visits(uuid);
ALTER TABLE tracks ADD COLUMN visit_uuid TEXT;
ALTER TABLE findspots ADD COLUMN visit_uuid TEXT;
CREATE INDEX tracks_visit ON tracks(visit_uuid);
CREATE INDEX findspots_visit ON findspots(visit_uuid);
INSERT INTO gpkg_contents (table_name, data_type, identifier, description, srs_id) VALUES
  ('visits', 'attributes', 'visits', 'Days of walking; tracks and findspots name theirs by visit_uuid', NULL);
`

/** Surveys made before get a visit for each day that was walked, and the findspots of that day with it. */
const fromDays = `
UPDATE writing SET own = 1;
INSERT INTO visits (uuid, day)
  SELECT ${freshUuid}, day FROM (SELECT DISTINCT substr(started_at, 1, 10) AS day FROM tracks WHERE walked = 1 ORDER BY 1);
UPDATE tracks SET visit_uuid = (SELECT uuid FROM visits WHERE day IS substr(tracks.started_at, 1, 10)) WHERE walked = 1;
UPDATE findspots SET visit_uuid = (SELECT uuid FROM visits WHERE day = substr(findspots.found_at, 1, 10))
  WHERE found_at IS NOT NULL;
UPDATE writing SET own = 0;
`

/** Which visit a row belongs to is user data; a cover does not depend on it. */
const movedTriggers = ['tracks', 'findspots']
  .map(
    (table) => `
CREATE TRIGGER ${table}_visit_changed AFTER UPDATE OF visit_uuid ON ${table} WHEN ${foreign} AND OLD.uuid IS NOT NULL
BEGIN
  UPDATE revisions SET everything = everything + 1;
  INSERT INTO journal (at, change, table_name, row_key)
    VALUES (strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), 'update', '${table}', OLD.uuid);
END;`,
  )
  .join('')

const userColumns =
  'id, uuid, day, person, swath_m, coil_m, rate_hz, error_m, own_chance, clock_offset_s, cut_drives, weather, ground'

export const visits0005 = [tables, fromDays, changeTriggers('visits', userColumns), movedTriggers].join('\n')
