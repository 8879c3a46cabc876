import { readFile } from 'node:fs/promises'
import type { FindView, PhotographView } from '#contract'
import { SurveyError } from '#core/faults'
import { numberedFind } from '#core/finds'
import type { FindsService } from '#service'

export const madeUpFind: FindView = {
  id: 4,
  uuid: '00000000-0000-4000-8000-000000000004',
  record: { ...numberedFind('NST-2026-004'), weightG: 4.5 },
  givenNumber: null,
  place: null,
  photographs: [],
}

const photograph: PhotographView = {
  id: 9,
  name: 'a.jpg',
  role: 'obverse',
  note: null,
  width: 40,
  height: 30,
  takenAt: null,
  mmPerPixel: null,
  scaleLine: null,
  found: true,
}

/** A test double for the finds of a fake desk: one find, and a note of what was asked. */
export function fakeFinds(): FindsService & { readonly asked: unknown[][] } {
  const asked: unknown[][] = []
  const found = (id: number): FindView => {
    if (id === madeUpFind.id) return madeUpFind
    throw new SurveyError('not-found', `There is no find ${id}.`)
  }
  return {
    asked,
    list: () => ({ columns: ['id', 'number'], rows: [[4, 'NST-2026-004']] }),
    one: found,
    named: (text) => {
      asked.push(['named', text])
      return madeUpFind
    },
    add: (find) => {
      asked.push(['add', find])
      return madeUpFind
    },
    change: (id, edit) => {
      asked.push(['change', edit])
      return found(id)
    },
    changeMany: (edit) => void asked.push(['changeMany', edit]),
    remove: (ids) => void asked.push(['remove', ids]),
    history: (id) => {
      found(id)
      return []
    },
    addEvent: (event) => void asked.push(['addEvent', event]),
    addPhotograph: async (id, name, role, path) => {
      found(id)
      asked.push(['addPhotograph', name, role, (await readFile(path)).length])
      return { photograph, alreadyThere: false, alsoOf: [] }
    },
    changePhotograph: (id, edit) => ({ ...photograph, id, note: edit.note ?? null }),
    removePhotograph: (id) => void asked.push(['removePhotograph', id]),
    picture: async (_, size) => Buffer.from(size),
    numbers: () => ({ years: [], gaps: [], next: 'NST-2026-005' }),
    noteNumber: (note) => void asked.push(['noteNumber', note]),
    joins: () => [],
    proposeJoins: (how) => {
      asked.push(['proposeJoins', how])
      return { added: 2, fragments: 5 }
    },
    changeJoin: (edit) => void asked.push(['changeJoin', edit]),
    joinTogether: (ids) => void asked.push(['joinTogether', ids]),
    part: (ids) => void asked.push(['part', ids]),
    table: async (name, path, wishes) => {
      asked.push(['table', name, (await readFile(path)).length, wishes])
      const none = { key: 'k', columns: [], choices: [], added: [], changed: [], conflicts: [], faults: [] }
      return { ...none, name, adds: 1, changes: 0, placed: 0, same: 0, written: wishes.write }
    },
    export: async (how) => {
      asked.push(['export', how])
      return { fileName: 'nst-finds.csv', mediaType: 'text/csv', bytes: Buffer.from('made up'), features: 1 }
    },
    labels: async (request) => {
      asked.push(['labels', request])
      return {
        fileName: 'nst-labels.pdf',
        mediaType: 'application/pdf',
        bytes: Buffer.from('made up'),
        features: 1,
      }
    },
    objectList: () => null,
    takeObjectList: async (name, path) => {
      asked.push(['takeObjectList', name, (await readFile(path)).length])
      return { terms: 2, faults: [] }
    },
    dropObjectList: () => void asked.push(['dropObjectList']),
    vocabularies: () => ({
      materials: { source: 'made up', notice: '', terms: [] },
      periods: { source: 'made up', notice: '', terms: [] },
    }),
  }
}
