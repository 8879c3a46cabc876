export { sweepInWords } from './effort-in-words.ts'
export {
  fastestSpeed,
  lateralChance,
  meanSweepShare,
  objectSensed,
  parallelSearchChance,
  randomSearchChance,
  type Sweep,
  scatterCrossed,
  sweepShare,
} from './lane-chances.ts'
