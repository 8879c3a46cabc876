export { readWorldFile, type WorldFile } from './read-world-file.ts'
export { isWorldFileName, type WorldFileChoice, worldFileFor } from './world-file-name.ts'
export { writeWorldFile } from './write-world-file.ts'
