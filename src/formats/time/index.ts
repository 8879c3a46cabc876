export { timeSeconds } from './epoch.ts'
export { isoSeconds, isoText, midnightSeconds, statesZone } from './iso-time.ts'
