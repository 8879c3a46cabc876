import { survey0001 } from './0001-survey.ts'
import { layers0002 } from './0002-layers.ts'
import { marks0003 } from './0003-marks.ts'
import { land0004 } from './0004-land.ts'
import { visits0005 } from './0005-visits.ts'
import { finds0006 } from './0006-finds.ts'
import { markLines0007 } from './0007-mark-lines.ts'
import { chances0008 } from './0008-chances.ts'
import { words0009 } from './0009-words.ts'

export interface Migration {
  /** Never reused, never renamed. */
  readonly name: string
  readonly sql: string
}

/** In order. A migration only adds; one that has been released is never edited. */
export const migrations: readonly Migration[] = [
  { name: '0001-survey', sql: survey0001 },
  { name: '0002-layers', sql: layers0002 },
  { name: '0003-marks', sql: marks0003 },
  { name: '0004-land', sql: land0004 },
  { name: '0005-visits', sql: visits0005 },
  { name: '0006-finds', sql: finds0006 },
  { name: '0007-mark-lines', sql: markLines0007 },
  { name: '0008-chances', sql: chances0008 },
  { name: '0009-words', sql: words0009 },
]
