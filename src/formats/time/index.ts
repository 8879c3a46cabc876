export { isoSeconds, isoText, statesZone } from './iso-time.ts'
