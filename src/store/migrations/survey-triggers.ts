/**
 * Triggers that make changes by other programs count as changes, as migration 0001 makes them; not to be changed. They
 * use nothing beyond plain SQL, since they run inside whatever program is writing. `writing.own` is 1 inside our own
 * transactions only (no other connection ever sees it so), and those count and journal for themselves: a trigger a row
 * would take longer than the row.
 */
export const foreign = '(SELECT own FROM writing) = 0'

/** A random version 4 UUID in SQL, for rows that another program adds without one. */
export const freshUuid = `lower(hex(randomblob(4)) || '-' || hex(randomblob(2)) || '-4' || substr(hex(randomblob(2)), 2) ||
    '-' || substr('89ab', 1 + (random() & 3), 1) || substr(hex(randomblob(2)), 2) || '-' || hex(randomblob(6)))`

/**
 * Columns whose change counts as a change of user data; the others follow from these. A row without a UUID is just being
 * added.
 */
const userColumns = {
  areas: 'id, uuid, geom, name, attributes, original_id',
  tracks: 'id, uuid, geom, name, walked, hdop, detail, attributes, original_id',
  findspots:
    'id, uuid, geom, name, easting, northing, grid_epsg, grid_method, accuracy_m, elevation_m, found_at, note, attributes, original_id',
  finds: 'id, uuid, number, given_number, findspot_id, object, material, period, count, weight_g, depth_m',
}

/** Triggers that give a row its UUID, and count and journal what another program does to a table. */
export function changeTriggers(table: string, columns: string): string {
  const ground = table === 'areas' || table === 'tracks' ? ', ground = ground + 1' : ''
  const noted = (change: string, key: string) => `
  UPDATE revisions SET everything = everything + 1${ground};
  INSERT INTO journal (at, change, table_name, row_key)
    VALUES (strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), '${change}', '${table}', ${key});`
  return `
CREATE TRIGGER ${table}_added AFTER INSERT ON ${table} WHEN ${foreign}
BEGIN
  UPDATE ${table} SET uuid = ${freshUuid} WHERE id = NEW.id AND uuid IS NULL;${noted('insert', `(SELECT uuid FROM ${table} WHERE id = NEW.id)`)}
END;
CREATE TRIGGER ${table}_changed AFTER UPDATE OF ${columns} ON ${table}
  WHEN ${foreign} AND OLD.uuid IS NOT NULL
BEGIN${noted('update', 'OLD.uuid')}
END;
CREATE TRIGGER ${table}_removed AFTER DELETE ON ${table} WHEN ${foreign}
BEGIN${noted('delete', 'OLD.uuid')}
END;
`
}

/** What was worked out from a geometry is struck out when another program changes the geometry. */
const movedTriggers = `
CREATE TRIGGER tracks_moved AFTER UPDATE OF geom ON tracks
  WHEN ${foreign} AND OLD.geom IS NOT NEW.geom
BEGIN
  UPDATE tracks SET fixes = NULL, started_at = NULL, ended_at = NULL WHERE id = NEW.id;
END;
CREATE TRIGGER findspots_moved AFTER UPDATE OF geom ON findspots
  WHEN ${foreign} AND substr(OLD.geom, -16) IS NOT substr(NEW.geom, -16)
    AND OLD.easting IS NEW.easting AND OLD.northing IS NEW.northing
BEGIN
  UPDATE findspots SET easting = NULL, northing = NULL, grid_epsg = NULL, grid_method = NULL WHERE id = NEW.id;
END;
`

const countTriggers = ['settings', 'survey', 'originals']
  .flatMap((table) =>
    ['insert', 'update', 'delete'].map(
      (event) => `
CREATE TRIGGER ${table}_${event} AFTER ${event.toUpperCase()} ON ${table} WHEN ${foreign}
BEGIN
  UPDATE revisions SET everything = everything + 1${table === 'originals' ? '' : ', ground = ground + 1'};
END;`,
    ),
  )
  .join('')

export const surveyTriggers = `
${Object.entries(userColumns)
  .map(([table, columns]) => changeTriggers(table, columns))
  .join('')}
${movedTriggers}
${countTriggers}
`
