import { type MayBe, ofSize, type WhatItMayBe } from '../may-be.ts'

const possible: readonly MayBe[] = [
  { what: 'small barrow', fromM: 4, toM: 8 },
  { what: 'gully of a tent-like shelter', fromM: 4, toM: 8 },
  { what: 'wall slot or eaves gully of a roundhouse', fromM: 8, toM: 15 },
  { what: 'ploughed-out round barrow', fromM: 10, toM: 40 },
  { what: 'mound of a windmill', fromM: 10, toM: 40 },
  { what: 'henge-like or other circular enclosure', fromM: 40, toM: 120 },
  { what: 'small hillfort', fromM: 40, toM: 120 },
]

const ordinary: readonly MayBe[] = [
  { what: 'ring worn by cattle round a feeder', fromM: 4, toM: 8 },
  { what: 'hole of a fallen tree', fromM: 4, toM: 8 },
  { what: 'fungus ring', fromM: 4, toM: 15 },
  { what: 'circle grazed by a tethered animal', fromM: 8, toM: 15 },
  { what: 'base of a tank', fromM: 8, toM: 15 },
  { what: 'hollow of an old quarry', fromM: 10, toM: 40 },
  { what: 'pond, or one that was filled in', fromM: 10, toM: 40 },
  { what: 'emplacement of a searchlight', fromM: 10, toM: 40 },
  { what: 'reservoir', fromM: 40, toM: 120 },
  { what: 'circle of irrigation', fromM: 40, toM: 120 },
]

const questions: readonly string[] = [
  'Is it there on another date, or on this one only?',
  'Is there a pole, a trough or a feeder at its middle?',
  'Could the lines be tramlines: pairs 1.5 to 2.5 m apart, in regular sets?',
]

/** Asked of a ring of which part is missing. */
const gapQuestion = 'Is the gap an entrance, the edge of a field, or bad crop?'

const source =
  'Common practice; regional gazetteers give many ring ditches of 15 to 30 m. One excavated barrow ditch, at Saltwood in Kent, measured 26.5 m outside and 0.95 to 2.5 m across.'

/**
 * What a ring may be, by its diameter alone: ranges of common practice, which overlap and do not decide anything. Most are never
 * dug, so each stays a question.
 *
 * @param diameterM metres, of the middle of the ditch
 * @param completeness share of the circle that is seen, 0 to 1; null where not known
 */
export function whatARingMayBe(diameterM: number, completeness: number | null): WhatItMayBe {
  return {
    possible: ofSize(possible, diameterM),
    ordinary: ofSize(ordinary, diameterM),
    questions: completeness !== null && completeness < 0.9 ? [...questions, gapQuestion] : questions,
    source,
  }
}
