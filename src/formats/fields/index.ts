export { type Field, type FieldGuess, fieldOf, type Unit } from './field-of.ts'
export { type FindTexts, findFrom, findspotFrom, isFindField } from './find-from.ts'
export { quantity } from './quantity.ts'
