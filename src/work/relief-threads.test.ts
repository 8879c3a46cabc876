import { expect, onTestFinished, test } from 'vitest'
import { isSurveyError } from '#core/faults'
import { greyRows, isGreyView, measuredRows, type ReliefView, type Terrain } from '#core/relief'
import { ReliefThreads } from './relief-threads.ts'

/** A slope with a bank and a pond, 90 x 130 cells of 0.5 x 0.8 m. */
function ground(): Terrain {
  const [columns, rows] = [90, 130]
  const values = Float32Array.from({ length: columns * rows }, (_, i) => {
    const [x, y] = [i % columns, Math.floor(i / columns)]
    if (x > 40 && x < 50 && y > 60 && y < 70) return Number.NaN
    return 20 + 0.1 * x + Math.exp(-(((x + y - 80) / 5) ** 2))
  })
  return { columns, rows, cellX: 0.5, cellY: 0.8, values }
}

function threads(): ReliefThreads {
  const made = new ReliefThreads(3)
  onTestFinished(() => made.close())
  return made
}

const edges = 'fill'
const views: ReliefView[] = [
  { view: 'hillshade', azimuthDeg: 315, altitudeDeg: 45, zFactor: 1, edges },
  { view: 'slope', unit: 'degrees', zFactor: 1, edges },
  { view: 'local-relief', shape: 'box', radiusM: 4, edges },
  { view: 'local-relief', shape: 'gaussian', radiusM: 4, edges },
  { view: 'openness-down', radiusM: 6, directions: 8, zFactor: 1, edges },
]

test('threads give what one thread gives, one view after another', async () => {
  const [pool, terrain] = [threads(), ground()]
  for (const view of views) {
    const { length } = terrain.values
    const alone = isGreyView(view) ? new Uint8Array(length) : new Float32Array(length)
    if (isGreyView(view)) greyRows(terrain, view, alone as Uint8Array, 0, terrain.rows)
    else measuredRows(terrain, view, alone as Float32Array, 0, terrain.rows)
    const shared = await pool.view(terrain, view)
    expect(Array.from(shared, Number.isNaN)).toEqual(Array.from(alone, Number.isNaN))
    // Rows beside none that miss a height divide their sums another way: a last bit of some heights may differ.
    const apart = shared.map((value, i) => Math.abs(value - alone[i]!)).filter((each) => !Number.isNaN(each))
    expect(Math.max(...apart), view.view).toBeLessThan(1e-6)
  }
})

test('what a view refuses is said, and the threads go on', async () => {
  const [pool, terrain] = [threads(), ground()]
  const wrong: ReliefView = { view: 'hillshade', azimuthDeg: 0, altitudeDeg: 120, zFactor: 1, edges }
  await expect(pool.view(terrain, wrong)).rejects.toThrow('0 to 90 degrees')
  expect((await pool.view(terrain, views[0]!)).length).toBe(terrain.values.length)
})

test('a cancel ends the work at once', async () => {
  const stop = new AbortController()
  const work = threads().view(ground(), views[3]!, { signal: stop.signal })
  stop.abort()
  const error = await work.catch((caught: unknown) => caught)
  expect(isSurveyError(error) && error.code).toBe('cancelled')
})
