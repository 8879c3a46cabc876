export { attributesOf, keepAttribute } from './attributes.ts'
export { TrackBuilder } from './track-builder.ts'
export { TrackNotes } from './track-notes.ts'
