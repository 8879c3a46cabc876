export { type Amount, type AmountAnswer, lengthFrom, weightFrom } from './amounts.ts'
export { type CareMatter, type CareWarning, careFor } from './care-for.ts'
export { type EventKind, eventKinds, type PhotographRole, photographRoles } from './catalogue-words.ts'
export { checkFind, type FindFault } from './check-find.ts'
export { type CheckIn, checkIn, type ExpectedBag } from './check-in.ts'
export {
  type FieldShape,
  type FindField,
  type FindFieldFacts,
  findFieldNames,
  findFields,
} from './find-fields.ts'
export { type FindNumber, findNumberText, parseFindNumber } from './find-number.ts'
export {
  type Certainty,
  type CodedWord,
  type Completeness,
  certainties,
  completenesses,
  type DamageKind,
  damageKinds,
  type FindRecord,
  numberedFind,
} from './find-record.ts'
export { type NamedVisit, visitNames } from './visit-names.ts'
export {
  broaderTerms,
  plainSpelling,
  searchTerms,
  type Term,
  type TermMatch,
  type Vocabulary,
  vocabularyOf,
} from './vocabulary.ts'
export { type UsedWord, type WordCount, wordsUsed } from './words-used.ts'
