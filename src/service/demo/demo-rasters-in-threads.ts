import { inWorker } from '#work'
import type { DemoRaster } from './demo-rasters.ts'

/** The demo's rasters in their order, worked out in two threads. Faults: SurveyError('cancelled'). */
export async function demoRastersInThreads(seed: number, signal?: AbortSignal): Promise<DemoRaster[]> {
  const work = (which: readonly number[]): Promise<DemoRaster[]> =>
    inWorker(new URL('./demo-rasters-worker.ts', import.meta.url), { seed, which }, signal ? { signal } : {})
  const [[terrain, dry], [wet]] = await Promise.all([work([0, 1]), work([2])])
  return [terrain!, dry!, wet!]
}
