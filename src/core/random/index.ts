export { normal, poisson, uniform, unit, wholeBelow } from './draws.ts'
export { type Random, seededRandom, xoshiro128 } from './xoshiro128.ts'
