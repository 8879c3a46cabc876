import type { Connection } from './connection.ts'
import type * as Catalogue from './find-catalogue.ts'
import {
  findsWithEvent,
  readChanges,
  readEvents,
  readLastNumbers,
  readLostNumbers,
  writeEvent,
} from './find-history.ts'
import { catalogued, cataloguedWith, readCatalogue, readLightFinds } from './find-rows.ts'
import { changeFind, removeFind, writeFinds } from './find-writing.ts'
import { readIdentity } from './identity.ts'
import { readJoins, readNumberNotes, reserveNumbers, writeJoins, writeNumberNote } from './join-rows.ts'
import { keepOriginal } from './keep-original.ts'
import * as Photographs from './photograph-rows.ts'
import type { Surroundings } from './survey-file.ts'
import { readWordList, writeWordList } from './word-rows.ts'
import type { Writer } from './writer.ts'

/** How an open survey lets its parts read and change it. */
export interface SurveyAccess {
  readonly read: <Result>(work: (on: Connection) => Result) => Result
  readonly act: <Result>(what: string, work: (writer: Writer) => Result) => Result
  readonly around: Surroundings
}

/** The catalogue of an open survey. What each method does is said at `FindCatalogue`. */
export function openCatalogue({ read, act, around }: SurveyAccess): Catalogue.FindCatalogue {
  const uuid = (): string => around.uuid()
  const contextOf = ({ on }: Writer) => ({ uuid, code: readIdentity(on).code })
  const take: Catalogue.FindCatalogue['take'] = (finds, edits, what, from) =>
    act(what, (writer) => {
      const context = contextOf(writer)
      if (from) keepOriginal(writer, from, uuid)
      for (const edit of edits) changeFind(writer, edit, context)
      return writeFinds(writer, finds, context)
    })
  return {
    all: () => read(readCatalogue),
    light: (epsg) => read((on) => readLightFinds(on, epsg)),
    one: (id) => read((on) => catalogued(on, id)),
    countAt: (findspot) =>
      read((on) => Number(on.one('SELECT count(*) AS n FROM finds WHERE findspot_id = ?', findspot)?.n ?? 0)),
    withNumber: (number) => read((on) => cataloguedWith(on, number)),
    add: (finds, what) => {
      const ids = take(finds, [], what)
      return read((on) => ids.map((id) => catalogued(on, id)))
    },
    change: (edits, what) => {
      take([], edits, what)
    },
    take,
    remove: (ids, what) =>
      act(what, (writer) => {
        for (const id of ids) removeFind(writer, id)
      }),

    events: (id) => read((on) => readEvents(on, id)),
    withEvent: (kind) => read((on) => findsWithEvent(on, kind)),
    addEvent: (ids, event, what) =>
      act(what, (writer) => writeEvent(writer, ids, event, { uuid, by: around.by })),
    changes: (id) => read((on) => readChanges(on, id)),

    photographs: (id) => read((on) => Photographs.readPhotographs(on, id)),
    photograph: (id) => read((on) => Photographs.photographOf(on, id)),
    thumbnail: (id) => read((on) => Photographs.readThumbnail(on, id)),
    photographsWith: (sha256) => read((on) => Photographs.readPhotographsWith(on, sha256)),
    addPhotograph: (find, photograph, inside) =>
      act(`photograph ${photograph.name}`, (writer) =>
        Photographs.writePhotograph(writer, find, photograph, inside, uuid),
      ),
    changePhotograph: (id, patch) =>
      act('change of a photograph', (writer) => Photographs.changePhotograph(writer, id, patch)),
    removePhotograph: (id) => {
      const { name, uuid: key } = read((on) => Photographs.photographOf(on, id))
      act(`removal of photograph ${name}`, (writer) => writer.remove('photographs', key))
    },

    joins: () => read(readJoins),
    writeJoins: (joins, what) => act(what, (writer) => writeJoins(writer, joins, uuid)),

    wordList: () => read(readWordList),
    takeWordList: (words, what, from) => act(what, (writer) => writeWordList(writer, words, from, uuid)),

    reserve: (year, count, note) =>
      act(`${count} numbers for labels`, (writer) =>
        reserveNumbers(writer, readIdentity(writer.on).code, year, count, note),
      ),
    numberNotes: () => read(readNumberNotes),
    noteNumber: (number, state, note) =>
      act(`note on number ${number}`, (writer) => writeNumberNote(writer, number, state, note)),
    lostNumbers: () => read(readLostNumbers),
    lastNumbers: () => read(readLastNumbers),
  }
}
