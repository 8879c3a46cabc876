export { decimal } from './decimal.ts'
export { fixedDecimal } from './fixed-decimal.ts'
export { plainDecimal } from './plain-decimal.ts'
