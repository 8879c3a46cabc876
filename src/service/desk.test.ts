import { cpSync } from 'node:fs'
import path from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { put, straightWalk, testFolder } from '../../test/service/small-field.ts'
import { Desk } from './desk.ts'
import type { DeskEvent } from './desk-service.ts'
import { importFiles } from './import-file.ts'

/** A desk over a folder with one survey, `nst.gpkg`, that holds the straight walk. */
async function deskWithWalk(easting = 558_010) {
  const home = testFolder()
  await importFiles(path.join(home, 'nst.gpkg'), [put(home, 'walk.csv', straightWalk(easting))])
  const desk = await opened(home)
  return { home, desk }
}

async function opened(home: string, survey?: string): Promise<Desk> {
  const desk = await Desk.open(home, survey)
  onTestFinished(() => desk.close())
  return desk
}

function eventsOf(desk: Desk): DeskEvent[] {
  const events: DeskEvent[] = []
  desk.onEvent((event) => events.push(event))
  return events
}

test('another survey answers with its own tracks, though its counters stand as those of the last one', async () => {
  const { home, desk } = await deskWithWalk(558_010)
  await importFiles(path.join(home, 'other.gpkg'), [put(home, 'other.csv', straightWalk(558_700))])
  expect(desk.trackLine(1, 0)[0]).toBeCloseTo(558_010, 3)
  desk.openSurvey('other.gpkg')
  expect(desk.trackLine(1, 0)[0]).toBeCloseTo(558_700, 3)
})

test('a copy of the open survey is seen as the copy that it is', async () => {
  const { home, desk } = await deskWithWalk()
  cpSync(path.join(home, 'nst.gpkg'), path.join(home, 'copy.gpkg'))
  expect(desk.view().file).toBe('nst.gpkg')
  expect(desk.openSurvey('copy.gpkg').file).toBe('copy.gpkg')
  expect(desk.view().file).toBe('copy.gpkg')
})

test('every page is told of a switch, also to a survey with the same revision', async () => {
  const { home, desk } = await deskWithWalk()
  await importFiles(path.join(home, 'other.gpkg'), [put(home, 'other.csv', straightWalk(558_700))])
  desk.openSurvey('other.gpkg')
  const events = eventsOf(desk)
  desk.openSurvey('nst.gpkg')
  expect(events).toEqual([{ type: 'survey', revision: desk.view().revision }])
})
