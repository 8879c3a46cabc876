import { SurveyError } from '#core/faults'
import { numberAt, secondsAt, textAt } from './cells.ts'
import type { Connection } from './connection.ts'
import { registerGrid } from './spatial-reference.ts'
import type { SurveyIdentity } from './survey-file.ts'
import type { Writer } from './writer.ts'

/** Faults: SurveyError survey-damaged where the one row is missing. */
export function readIdentity(on: Connection): SurveyIdentity {
  const row = on.one('SELECT * FROM survey')
  if (row === null) {
    throw new SurveyError(
      'survey-damaged',
      'The survey has lost its own name and code; open the latest backup instead.',
    )
  }
  return {
    uuid: textAt(row, 'uuid') ?? '',
    code: textAt(row, 'code') ?? '',
    title: textAt(row, 'title') ?? '',
    demo: numberAt(row, 'demo') === 1,
    gridEpsg: numberAt(row, 'grid_epsg'),
    createdAt: secondsAt(row, 'created_at') ?? 0,
  }
}

/** Sets the grid where there is none. Faults: SurveyError mixed-grids where there is another. */
export function setGridOnce(writer: Writer, epsg: number): void {
  const { gridEpsg, uuid } = readIdentity(writer.on)
  if (gridEpsg === epsg) return
  if (gridEpsg !== null) {
    throw new SurveyError(
      'mixed-grids',
      `The survey works in grid EPSG:${gridEpsg}, which cannot be changed to EPSG:${epsg}; start another survey for ground there.`,
    )
  }
  registerGrid(writer.on, epsg)
  writer.update('survey', uuid, { grid_epsg: epsg })
}
