export { type Metres, metres, positiveMetres } from './metres.ts'
