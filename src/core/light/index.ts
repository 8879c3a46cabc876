export { type Crossing, type DayLight, dayLight, daylightLeft } from './day-light.ts'
export { type SunInSky, type SunPlace, siderealTime, sunInSky, sunPlace } from './sun-position.ts'
