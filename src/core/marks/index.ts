export type { Raster, RingCandidate, RingGap, RingSettings, Tone } from './candidate.ts'
export { isSameMark, knownMark, type MarkPlace, sameDiameter, sameMiddle } from './same-mark.ts'
export { type MayBe, type WhatItMayBe, whatItMayBe } from './what-it-may-be.ts'
