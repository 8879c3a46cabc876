export { demoFiles } from './demo-files.ts'
export type { DemoRaster } from './demo-rasters.ts'
export { demoRastersInThreads } from './demo-rasters-in-threads.ts'
export { survey as demoNames } from './scenario.ts'
