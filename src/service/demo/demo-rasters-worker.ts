import { serve } from '#work'
import { type DemoRaster, demoRaster } from './demo-rasters.ts'

/** Works one of the demo's rasters out in a thread, which the rest of the demo need not wait for. */
await serve<{ readonly seed: number; readonly which: number }, DemoRaster>(({ seed, which }) =>
  demoRaster(seed, which),
)
