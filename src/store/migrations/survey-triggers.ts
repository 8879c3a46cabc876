/**
 * Triggers that make changes by other programs count as changes, as migration 0001 makes them; not to be changed. They
 * use nothing beyond plain SQL, since they run inside whatever program is writing. `writing.own` is 1 inside our own
 * transactions only (no other connection ever sees it so): a change while it is 0 came from another program and goes into
 * the journal without an action.
 */

/** A random version 4 UUID in SQL, for rows that another program adds without one. */
const freshUuid = `lower(hex(randomblob(4)) || '-' || hex(randomblob(2)) || '-4' || substr(hex(randomblob(2)), 2) ||
    '-' || substr('89ab', 1 + (random() & 3), 1) || substr(hex(randomblob(2)), 2) || '-' || hex(randomblob(6)))`

/** Columns whose change counts as a change of user data; the others follow from these. */
const userColumns = {
  areas: 'id, geom, name, attributes, original_id',
  tracks: 'id, geom, name, walked, hdop, detail, attributes, original_id',
  findspots:
    'id, geom, name, easting, northing, grid_epsg, grid_method, accuracy_m, elevation_m, found_at, note, attributes, original_id',
  finds: 'id, number, given_number, findspot_id, object, material, period, count, weight_g, depth_m',
}

const groundTables = new Set(['areas', 'tracks'])

function changeTriggers(table: keyof typeof userColumns): string {
  const counted = `everything = everything + 1${groundTables.has(table) ? ', ground = ground + 1' : ''}`
  const noted = (change: string, key: string) => `
  UPDATE revisions SET ${counted};
  INSERT INTO journal (at, change, table_name, row_key)
    SELECT strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), '${change}', '${table}', ${key}
    WHERE (SELECT own FROM writing) = 0;`
  return `
CREATE TRIGGER ${table}_added AFTER INSERT ON ${table} BEGIN
  UPDATE ${table} SET uuid = ${freshUuid} WHERE id = NEW.id AND uuid IS NULL;${noted('insert', `(SELECT uuid FROM ${table} WHERE id = NEW.id)`)}
END;
CREATE TRIGGER ${table}_changed AFTER UPDATE OF ${userColumns[table]} ON ${table} BEGIN${noted('update', 'NEW.uuid')}
END;
CREATE TRIGGER ${table}_removed AFTER DELETE ON ${table} BEGIN${noted('delete', 'OLD.uuid')}
END;
`
}

/** What was worked out from a geometry is struck out when another program changes the geometry. */
const movedTriggers = `
CREATE TRIGGER tracks_moved AFTER UPDATE OF geom ON tracks
  WHEN (SELECT own FROM writing) = 0 AND OLD.geom IS NOT NEW.geom
BEGIN
  UPDATE tracks SET fixes = NULL, started_at = NULL, ended_at = NULL WHERE id = NEW.id;
END;
CREATE TRIGGER findspots_moved AFTER UPDATE OF geom ON findspots
  WHEN (SELECT own FROM writing) = 0 AND substr(OLD.geom, -16) IS NOT substr(NEW.geom, -16)
    AND OLD.easting IS NEW.easting AND OLD.northing IS NEW.northing
BEGIN
  UPDATE findspots SET easting = NULL, northing = NULL, grid_epsg = NULL, grid_method = NULL WHERE id = NEW.id;
END;
`

const otherTriggers = ['INSERT', 'UPDATE', 'DELETE']
  .flatMap((event) => [
    `CREATE TRIGGER settings_${event.toLowerCase()} AFTER ${event} ON settings BEGIN
  UPDATE revisions SET everything = everything + 1, ground = ground + 1;
END;`,
    `CREATE TRIGGER originals_${event.toLowerCase()} AFTER ${event} ON originals BEGIN
  UPDATE revisions SET everything = everything + 1;
END;`,
    `CREATE TRIGGER survey_${event.toLowerCase()} AFTER ${event} ON survey BEGIN
  UPDATE revisions SET everything = everything + 1, ground = ground + 1;
END;`,
  ])
  .join('\n')

export const surveyTriggers = `
${(Object.keys(userColumns) as (keyof typeof userColumns)[]).map(changeTriggers).join('')}
${movedTriggers}
${otherTriggers}
`
