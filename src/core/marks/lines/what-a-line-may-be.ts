import { type MayBe, ofSize, type WhatItMayBe } from '../may-be.ts'
import type { LineLookAlike } from './line-candidate.ts'

/** By the width of a single line. */
const possible: readonly MayBe[] = [
  { what: 'ditch of a boundary or an enclosure', fromM: 0.5, toM: 4 },
  { what: 'bank, or the foot of a wall', fromM: 0.5, toM: 4 },
  { what: 'hollow of an old way', fromM: 2, toM: 8 },
]

const ordinary: readonly MayBe[] = [
  { what: 'wheel track', fromM: 0.3, toM: 1 },
  { what: 'trench of a pipe, drain or cable', fromM: 0.3, toM: 2 },
  { what: 'edge of a field or strip, old or new', fromM: 0.3, toM: 8 },
  { what: 'path of animals or people', fromM: 0.3, toM: 2 },
  { what: 'joint or channel in the ground below', fromM: 1, toM: 8 },
]

/** Where two lines run beside one another, from middle to middle. */
const possiblePair: MayBe = { what: 'trackway between two ditches', fromM: 2.5, toM: 15 }

const questions: readonly string[] = [
  'Is it there on another date, or on this one only?',
  'Does it run along the way the field is worked, or across it?',
  'Does it lead to a gate, a trough, a manhole or a pylon?',
]

/** What is asked where a line looks like something of our own day. */
const lookAlikeQuestions: Readonly<Record<LineLookAlike, string>> = {
  tramlines: 'Is it one of the tramlines: straight pairs, 1.5 to 2.5 m apart, in regular sets?',
  'field edge': 'Is it the edge of a field: a hedge, a headland, a change of crop?',
  'plough ridges': 'Is it one of many ridges side by side that the plough has left?',
}

const source =
  'Common practice. Ditch widths run 0.5 to 4 m; one excavated barrow ditch, at Saltwood in Kent, was 0.95 to 2.5 m across.'

/**
 * What a line or the side of an enclosure may be, by its width and by what runs beside it; with what it looks like of our own day asked first.
 *
 * @param widthM metres, a rough figure; null where nobody measured it
 * @param pairSpacingM metres to the middle of a line beside it; null where none runs
 */
export function whatALineMayBe(
  widthM: number | null,
  pairSpacingM: number | null,
  mayBe: readonly LineLookAlike[],
): WhatItMayBe {
  const paired = pairSpacingM === null ? [] : ofSize([possiblePair], pairSpacingM)
  return {
    possible: widthM === null ? paired : [...ofSize(possible, widthM), ...paired],
    ordinary: widthM === null ? [] : ofSize(ordinary, widthM),
    questions: [...mayBe.map((each) => lookAlikeQuestions[each]), ...questions],
    source,
  }
}
