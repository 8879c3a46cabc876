export { type CommandLineParts, commandNames, runCommandLine } from './command-line.ts'
export type { OpenDesk, OpenWishes } from './open.ts'
export type { Terminal } from './terminal.ts'
