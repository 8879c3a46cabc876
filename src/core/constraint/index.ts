export { type Clash, clashesOf, clashInWords } from './clashes.ts'
export { noShape, type Shape } from './shape.ts'
