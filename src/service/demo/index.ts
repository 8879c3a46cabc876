export { demoFiles } from './demo-files.ts'
export { survey as demoNames } from './scenario.ts'
