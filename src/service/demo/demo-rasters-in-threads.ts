import { inWorker } from '#work'
import { type DemoRaster, demoRasterCount } from './demo-rasters.ts'

/** The demo's rasters in their order, each worked out in a thread of its own from now on. Faults of each: SurveyError('cancelled'). */
export function demoRastersInThreads(seed: number, signal: AbortSignal): Promise<DemoRaster>[] {
  const script = new URL('./demo-rasters-worker.ts', import.meta.url)
  const rasters = Array.from({ length: demoRasterCount }, (_, which) =>
    inWorker<DemoRaster>(script, { seed, which }, { signal }),
  )
  // They are waited for one after another; what goes wrong before that must not be unheard.
  for (const raster of rasters) raster.catch(() => {})
  return rasters
}
