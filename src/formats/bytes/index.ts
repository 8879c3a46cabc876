export { type ByteSource, bytesFrom, chunksOf, headOf, type Progress } from './byte-source.ts'
export { type BadBytes, decodedText } from './decoded-text.ts'
export { wholeText } from './whole-text.ts'
