export type { AscHeader } from './asc-header.ts'
export { AscReader, type AscTold } from './read-asc.ts'
