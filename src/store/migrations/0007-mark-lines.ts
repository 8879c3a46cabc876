import { foreign } from './survey-triggers.ts'

/**
 * What a search for lines tells besides: how far from a line another runs beside it, and what of our own day it looks like.
 * Told in docs/reference/survey-file.md; not to be changed.
 */
export const markLines0007 = `
ALTER TABLE marks ADD COLUMN pair_spacing_m REAL;
ALTER TABLE marks ADD COLUMN may_be TEXT;
CREATE TRIGGER marks_lined AFTER UPDATE OF pair_spacing_m, may_be ON marks
  WHEN ${foreign} AND OLD.uuid IS NOT NULL
BEGIN
  UPDATE revisions SET everything = everything + 1;
  INSERT INTO journal (at, change, table_name, row_key)
    VALUES (strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), 'update', 'marks', OLD.uuid);
END;`
