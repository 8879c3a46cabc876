import path from 'node:path'
import { describe, expect, onTestFinished, test } from 'vitest'
import { blend, hillshade, type MeasuredView, multiHillshade, slope, type Terrain } from '#core/relief'
import { measureInThreads } from '#work'
import { writeHeights } from '../../../test/service/heights.ts'
import { folderForTest } from '../../../test/service/pictures.ts'
import { BlockSource } from './block-source.ts'
import { fromRaster, rasterTurn, toRaster } from './terrain-light.ts'
import { TerrainSource } from './terrain-source.ts'

const northUp = rasterTurn({ column: [0.5, 0], up: [0, 0.5] })

function opened(columns: number, rows: number, turn = northUp) {
  const folder = folderForTest()
  const heights = path.join(folder, 'heights.f32')
  const values = writeHeights(heights, columns, rows)
  const terrain: Terrain = { columns, rows, cellX: 0.5, cellY: 0.5, values }
  const sources: BlockSource[] = [new BlockSource(heights, columns, rows)]
  onTestFinished(() => {
    for (const source of sources) source.close()
  })
  let made = 0
  const far = async (view: MeasuredView): Promise<BlockSource> => {
    const out = path.join(folder, `${made++}.f32`)
    await measureInThreads({ heights, out, columns, rows, cellX: 0.5, cellY: 0.5, view, label: 'x' })
    const source = new BlockSource(out, columns, rows)
    sources.push(source)
    return source
  }
  return { terrain, source: new TerrainSource(sources[0]!, turn, far), made: () => made }
}

const window = { left: 30, top: 20, width: 300, height: 290 }

/** Grey of a window, from a picture of the whole. */
function cut(whole: Uint8Array | Float32Array, columns: number): number[] {
  const { left, top, width, height } = window
  return Array.from(
    { length: width * height },
    (_, i) => whole[(top + Math.floor(i / width)) * columns + left + (i % width)]!,
  )
}

const greys = (pixels: Uint8Array | Uint8ClampedArray): number[] => [...pixels].filter((_, i) => i % 2 === 0)

describe('a piece shows what the whole terrain shows there', () => {
  test('hillshades, with the hole clear', async () => {
    const { terrain, source } = opened(700, 600)
    const one = await source.paint(0, window, {
      view: 'hillshade',
      azimuth: 300,
      altitude: 30,
      exaggeration: 2,
    })
    const options = { azimuthDeg: 300, altitudeDeg: 30, zFactor: 2, edges: 'fill' } as const
    expect(greys(one.pixels)).toEqual(cut(hillshade(terrain, options), 700))
    const several = await source.paint(0, window, { view: 'multi-hillshade', altitude: 45 })
    const whole = multiHillshade(terrain, { altitudeDeg: 45, zFactor: 1, edges: 'fill' })
    expect(greys(several.pixels)).toEqual(cut(whole, 700))
    const hole = (31 - window.top) * window.width + 41 - window.left
    expect([several.pixels[2 * hole], several.pixels[2 * hole + 1]]).toEqual([0, 0])
  })

  test('a blend, worked out once for the whole terrain in threads', async () => {
    const { terrain, source, made } = opened(700, 600)
    const view = { view: 'blend', radiusM: 4, directions: 8 } as const
    const seen = greys((await source.paint(0, window, view)).pixels)
    await source.paint(1, { left: 0, top: 0, width: 50, height: 50 }, view)
    expect(made()).toBe(2)
    const whole = cut(blend(terrain, { radiusM: 4, directions: 8, zFactor: 1, edges: 'fill' }), 700)
    // Its black and white are taken from samples of the terrain, so greys may differ by a step or two.
    for (const [i, grey] of seen.entries()) expect(Math.abs(grey - whole[i]!)).toBeLessThanOrEqual(4)
  })

  test('slopes, stretched by percentiles of their own', async () => {
    const { terrain, source } = opened(700, 600)
    const seen = greys((await source.paint(0, window, { view: 'slope', cutPercent: 0 })).pixels)
    const degrees = cut(slope(terrain, { unit: 'degrees', zFactor: 1, edges: 'fill' }), 700)
    for (let i = 1; i < seen.length; i++) {
      if (Number.isNaN(degrees[i]!)) expect(seen[i]).toBe(0)
      else if (degrees[i]! > degrees[i - 1]!) expect(seen[i]!).toBeGreaterThanOrEqual(seen[i - 1]!)
    }
  })
})

test('pictures of the whole terrain are kept apart by what they follow from', async () => {
  const { source, made } = opened(300, 200)
  const small = { left: 0, top: 0, width: 20, height: 20 }
  await source.paint(0, small, { view: 'local-relief', radiusM: 3 })
  await source.paint(0, small, { view: 'local-relief', radiusM: 3, cutPercent: 10 })
  await source.paint(0, small, { view: 'local-relief', radiusM: 6 })
  await source.paint(0, small, { view: 'openness-up', radiusM: 3, directions: 8 })
  expect(made()).toBe(4)
})

test('settings beyond what makes sense are refused', async () => {
  const { source } = opened(300, 200)
  const small = { left: 0, top: 0, width: 20, height: 20 }
  for (const wrong of [
    { view: 'sky-view', radiusM: 0.1 },
    { view: 'sky-view', radiusM: 1e6 },
    { view: 'sky-view', directions: 5 },
    { view: 'hillshade', altitude: -1 },
    { view: 'slope', cutPercent: 60 },
  ] as const) {
    await expect(source.paint(0, small, wrong)).rejects.toMatchObject({ code: 'setting-out-of-range' })
  }
  await expect(source.paint(0, small, { view: 'ndvi' })).rejects.toThrow(RangeError)
})

describe('the light comes from where it is said to, however the raster lies', () => {
  test.each([
    ['north up', { column: [1, 0], up: [0, 1] }],
    ['turned by 30 degrees', { column: [Math.sqrt(3) / 2, -0.5], up: [0.5, Math.sqrt(3) / 2] }],
    ['south up', { column: [1, 0], up: [0, -1] }],
    ['west to the right', { column: [-1, 0], up: [0, 1] }],
  ] as const)('%s', (_, axes) => {
    const turn = rasterTurn(axes)
    for (const bearing of [0, 45, 170, 300]) {
      const angle = (toRaster(bearing, turn) * Math.PI) / 180
      // A step in the raster's own axes, as a step on the ground.
      const [x, y] = [Math.sin(angle), Math.cos(angle)]
      const east = x * axes.column[0] + y * axes.up[0]
      const north = x * axes.column[1] + y * axes.up[1]
      expect(east).toBeCloseTo(Math.sin((bearing * Math.PI) / 180), 9)
      expect(north).toBeCloseTo(Math.cos((bearing * Math.PI) / 180), 9)
      expect(fromRaster(toRaster(bearing, turn), turn)).toBeCloseTo(bearing, 9)
    }
  })
})
