export { demoFiles } from './demo-files.ts'
export { type DemoRaster, demoRasters } from './demo-rasters.ts'
export { survey as demoNames } from './scenario.ts'
