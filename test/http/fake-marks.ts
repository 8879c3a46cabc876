import { type Job, type Mark, soughtKindOf, type Target } from '#contract'
import { SurveyError } from '#core/faults'
import type { MarkService, StartedJob } from '#service'
import { madeUpLayer } from './fake-layers.ts'

export const madeUpMark: Mark = {
  id: 5,
  kind: 'ring',
  state: 'candidate',
  note: null,
  easting: 560_050,
  northing: 349_950,
  lat: 53.02,
  lon: 0.38,
  gridRef: 'TF 60050 49950',
  outline: [
    [560_060, 349_950],
    [560_050, 349_960],
    [560_040, 349_950],
    [560_060, 349_950],
  ],
  diameterM: 20,
  ditchWidthM: 1.5,
  tone: 'dark',
  completeness: 0.75,
  arcGaps: [{ fromDeg: 350, toDeg: 440 }],
  ellipticity: 0.95,
  contrast: 3.5,
  score: 0.875,
  falseAlarmsPerKm2: 0.125,
  pairSpacingM: null,
  mayBe: [],
  layerId: 3,
  layerName: 'field.tif',
  view: { view: 'as-is' },
  seenAgain: [],
  madeBy: 'detector',
  edited: false,
  madeAt: '2026-01-02T03:04:05.000Z',
  targetId: null,
}

const madeUpTarget: Target = {
  id: 1,
  name: 'made up',
  note: null,
  easting: 560_050,
  northing: 349_950,
  lat: 53.02,
  lon: 0.38,
  gridRef: null,
  markId: null,
  madeAt: null,
}

/** A test double for the marks of a fake desk: one mark in memory, chips that say what was asked of them. */
export function fakeMarks(
  changed: () => void,
  held: <Result>(kind: Job['kind'], result: () => Result) => StartedJob<Result>,
): MarkService {
  let marks: Mark[] = [madeUpMark]
  let targets: Target[] = []
  const one = <Item extends { id: number }>(items: readonly Item[], id: number): Item => {
    const found = items.find((item) => item.id === id)
    if (found) return found
    throw new SurveyError('not-found', `There is nothing numbered ${id}.`)
  }
  return {
    list: () => marks,
    search: ({ layerId }) => {
      if (layerId !== madeUpLayer.id) throw new SurveyError('not-found', `There is no layer ${layerId}.`)
      return held('marks', () => ({ found: 0, added: 0, known: 0, rejectedBefore: 0, dropped: 0 }))
    },
    add: (mark) => {
      const made: Mark = { ...madeUpMark, id: 6, state: 'accepted', kind: mark.kind, note: mark.note ?? null }
      marks = [...marks, made]
      changed()
      return made
    },
    change: (id, edit) => {
      const made: Mark = { ...one(marks, id), ...edit }
      marks = marks.map((mark) => (mark.id === id ? made : mark))
      changed()
      return made
    },
    remove: (id) => {
      one(marks, id)
      marks = marks.filter((mark) => mark.id !== id)
      changed()
    },
    removeUndecided: (kind) => {
      const left = marks.filter(
        (mark) => mark.state !== 'candidate' || (kind !== null && soughtKindOf(mark.kind) !== kind),
      )
      const removed = marks.length - left.length
      marks = left
      return removed
    },
    chip: async (id, address) => {
      one(marks, id)
      return { png: Buffer.from(JSON.stringify(address)), stamp: 'stamp-1', whole: true }
    },
    makeTarget: (id) => {
      targets = [{ ...madeUpTarget, markId: one(marks, id).id }]
      return targets[0]!
    },
    targets: () => targets,
    addTarget: (target) => {
      const made: Target = { ...madeUpTarget, id: 2, ...target }
      targets = [...targets, made]
      return made
    },
    changeTarget: (id, edit) => {
      const made: Target = { ...one(targets, id), ...edit }
      targets = targets.map((target) => (target.id === id ? made : target))
      return made
    },
    removeTarget: (id) => {
      one(targets, id)
      targets = targets.filter((target) => target.id !== id)
    },
  }
}
