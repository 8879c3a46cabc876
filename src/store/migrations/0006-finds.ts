/**
 * The catalogue of finds: what is known of each, its history, its photographs, which fragments belong together, and what
 * became of numbers that no find bears. Told in docs/reference/survey-file.md; not to be changed.
 */
const columns = [
  'object_term TEXT',
  'materials TEXT',
  'period_term TEXT',
  'from_year INTEGER',
  'to_year INTEGER',
  'certainty TEXT',
  'completeness TEXT',
  'length_mm REAL',
  'width_mm REAL',
  'thickness_mm REAL',
  'diameter_mm REAL',
  'die_axis_h REAL',
  'condition TEXT',
  'surface TEXT',
  'damage TEXT',
  'decoration TEXT',
  'description TEXT',
  'parallels TEXT',
  'conservation TEXT',
  'warnings TEXT',
  'finder TEXT',
  'lay TEXT',
  'signal_note TEXT',
  'where_now TEXT',
  'notes TEXT',
  'visit_uuid TEXT',
]

const names = columns.map((column) => column.split(' ')[0]).join(', ')

const tables = `
${columns.map((column) => `ALTER TABLE finds ADD COLUMN ${column};`).join('\n')}
CREATE TABLE find_events (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT NOT NULL UNIQUE,
  find_uuid TEXT NOT NULL,
  kind TEXT NOT NULL,
  happened_on TEXT,
  who TEXT,
  note TEXT,
  recorded_at DATETIME NOT NULL,
  recorded_by TEXT NOT NULL
);
CREATE INDEX find_events_find ON find_events(find_uuid);
CREATE TABLE photographs (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT NOT NULL UNIQUE,
  find_uuid TEXT NOT NULL,
  role TEXT NOT NULL,
  name TEXT NOT NULL,
  path TEXT,
  relative_path TEXT,
  sha256 TEXT NOT NULL,
  size INTEGER NOT NULL,
  width INTEGER NOT NULL,
  height INTEGER NOT NULL,
  orientation INTEGER NOT NULL,
  taken_at TEXT,
  note TEXT,
  mm_per_pixel REAL,
  scale_line TEXT,
  original_id INTEGER REFERENCES originals(id),
  exif BLOB,
  thumbnail BLOB
);
CREATE INDEX photographs_find ON photographs(find_uuid);
CREATE INDEX photographs_sha256 ON photographs(sha256);
CREATE INDEX photographs_original ON photographs(original_id);
CREATE TABLE joins (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT NOT NULL UNIQUE,
  first_uuid TEXT NOT NULL,
  second_uuid TEXT NOT NULL,
  state TEXT NOT NULL,
  score REAL,
  reasons TEXT,
  note TEXT,
  UNIQUE (first_uuid, second_uuid)
);
CREATE INDEX joins_second ON joins(second_uuid);
CREATE TABLE number_notes (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  number TEXT NOT NULL UNIQUE,
  state TEXT NOT NULL,
  note TEXT,
  noted_at DATETIME NOT NULL
);
`

/** What was once said of a find's history stays: a mistake is put right by a further entry. Undo takes an entry back whole. */
const history = `
CREATE TRIGGER find_events_kept BEFORE UPDATE ON find_events
BEGIN
  SELECT RAISE(ABORT, 'the history of a find is added to, never changed');
END;
CREATE TRIGGER find_events_stay BEFORE DELETE ON find_events WHEN (SELECT own FROM writing) = 0
BEGIN
  SELECT RAISE(ABORT, 'the history of a find is added to, never changed');
END;`

const ownTables = ['find_events', 'photographs', 'joins', 'number_notes']

/** A change by another program counts as a change of user data, as for the other tables of our own. */
const countTriggers = ownTables
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

/** The new columns count as user data too, as those of 0001 do. */
const changeTrigger = `
CREATE TRIGGER finds_catalogued AFTER UPDATE OF ${names} ON finds
  WHEN (SELECT own FROM writing) = 0 AND OLD.uuid IS NOT NULL
BEGIN
  UPDATE revisions SET everything = everything + 1;
  INSERT INTO journal (at, change, table_name, row_key)
    VALUES (strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), 'update', 'finds', OLD.uuid);
END;`

/** Shown by any GIS as plain tables; writing them is ours. */
const described: Readonly<Record<string, string>> = {
  find_events: 'What happened to each find; find_uuid points to finds.uuid',
  photographs: 'Photographs of finds; find_uuid points to finds.uuid',
  joins: 'Fragments that may be of one object; both uuids point to finds.uuid',
  number_notes: 'Find numbers that no find bears, and why',
}
const contents = Object.entries(described)
  .map(
    ([table, text]) => `
INSERT INTO gpkg_contents (table_name, data_type, identifier, description, srs_id) VALUES ('${table}', 'attributes', '${table}', '${text}', NULL);
INSERT INTO gpkg_extensions VALUES ('${table}', NULL, 'lynchet_survey', 'docs/reference/survey-file.md of Lynchet', 'write-only');`,
  )
  .join('')

export const finds0006 = [tables, history, countTriggers, changeTrigger, contents].join('\n')
