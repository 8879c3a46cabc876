/**
 * The user's own list of words for what a find is: `finds.object_term` holds the key of one. Told in docs/reference/survey-file.md; not to be
 * changed.
 */
const table = `
CREATE TABLE words (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT NOT NULL UNIQUE,
  list TEXT NOT NULL,
  key TEXT NOT NULL,
  name TEXT NOT NULL,
  other_names TEXT,
  broader TEXT,
  original_id INTEGER REFERENCES originals(id),
  UNIQUE (list, key)
);
CREATE INDEX words_original ON words(original_id);
`

/** A change by another program counts as a change of user data, as for the other tables of our own. */
const countTriggers = ['insert', 'update', 'delete']
  .map(
    (event) => `
CREATE TRIGGER words_${event} AFTER ${event.toUpperCase()} ON words WHEN (SELECT own FROM writing) = 0
BEGIN
  UPDATE revisions SET everything = everything + 1;
END;`,
  )
  .join('')

const contents = `
INSERT INTO gpkg_contents (table_name, data_type, identifier, description, srs_id)
  VALUES ('words', 'attributes', 'words', 'Own list of words for what a find is; finds.object_term names their key', NULL);
INSERT INTO gpkg_extensions VALUES ('words', NULL, 'lynchet_survey', 'docs/reference/survey-file.md of Lynchet', 'write-only');`

export const words0009 = [table, countTriggers, contents].join('\n')
