export { timeSeconds } from './epoch.ts'
export { isoSeconds, isoText, statesZone } from './iso-time.ts'
