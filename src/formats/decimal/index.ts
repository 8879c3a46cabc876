export { decimal } from './decimal.ts'
export { fixedDecimal } from './fixed-decimal.ts'
