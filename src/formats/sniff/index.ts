export { type ReadOptions, readFile } from './read-file.ts'
