/**
 * The chances last worked out, one row for each choice of visits. They can be worked out again, so they are neither journalled nor user
 * data. Told in docs/reference/survey-file.md; not to be changed.
 */
export const chances0008 = `
CREATE TABLE chances (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  uuid TEXT NOT NULL UNIQUE,
  choice TEXT NOT NULL UNIQUE,
  made_at DATETIME NOT NULL,
  made_of TEXT NOT NULL,
  wish TEXT NOT NULL,
  figures TEXT NOT NULL,
  gaps TEXT NOT NULL,
  surface BLOB
);
INSERT INTO gpkg_extensions VALUES ('chances', NULL, 'lynchet_survey', 'docs/reference/survey-file.md of Lynchet', 'write-only');
`
