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
