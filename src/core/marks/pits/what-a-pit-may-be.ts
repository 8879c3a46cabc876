import { type MayBe, ofSize, type WhatItMayBe } from '../may-be.ts'

const possible: readonly MayBe[] = [
  { what: 'hole of a large post', fromM: 0.5, toM: 1.5 },
  { what: 'pit for storing or for rubbish', fromM: 1, toM: 3 },
  { what: 'well or shaft', fromM: 1, toM: 4 },
  { what: 'building with a sunken floor', fromM: 3, toM: 6 },
  { what: 'old digging for marl, clay or stone', fromM: 4, toM: 20 },
]

const ordinary: readonly MayBe[] = [
  { what: 'molehill or burrow', fromM: 0.5, toM: 1.5 },
  { what: 'bush, bale or tree standing there', fromM: 0.5, toM: 8 },
  { what: 'clump of weeds, or crop that lies flat', fromM: 1, toM: 8 },
  { what: 'hole of a fallen tree', fromM: 2, toM: 8 },
  { what: 'stain of a heap of dung, lime or ash', fromM: 2, toM: 8 },
  { what: 'foot of a pole or pylon', fromM: 1, toM: 6 },
  { what: 'hollow in the rock or gravel below', fromM: 2, toM: 20 },
  { what: 'crater of a bomb or shell: leave it alone', fromM: 3, toM: 15 },
  { what: 'pond, or one that was filled in', fromM: 6, toM: 20 },
]

const questions: readonly string[] = [
  'Is it there on another date, or on this one only?',
  'Does it throw a shadow, as a bush, a bale or a molehill does?',
  'Does it stand in a row or a grid with others: old posts, planted trees, drains?',
]

const source = 'All ranges are common practice, with no published source.'

/**
 * What a round blob may be, by its diameter alone: ranges of common practice, which overlap and do not decide anything.
 *
 * @param diameterM metres; as the search tells it, a rough figure
 */
export function whatAPitMayBe(diameterM: number): WhatItMayBe {
  return {
    possible: ofSize(possible, diameterM),
    ordinary: ofSize(ordinary, diameterM),
    questions,
    source,
  }
}
