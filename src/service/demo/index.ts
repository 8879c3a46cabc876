export { type DemoFile, demoFiles } from './demo-files.ts'
export { survey as demoNames } from './scenario.ts'
