export { type LinkedOptions, linkedFinds, type SharedPlace } from './linked-finds.ts'
