import { expect, test } from 'vitest'
import { TileQueue } from './tile-queue.ts'

const turn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 5))

test('no more than so many run at once, the last asked for comes first, and all come', async () => {
  const queue = new TileQueue(2)
  let [running, most] = [0, 0]
  const order: number[] = []
  const work = (n: number) => async () => {
    order.push(n)
    running += 1
    most = Math.max(most, running)
    await turn()
    running -= 1
    return n
  }
  const all = await Promise.all([1, 2, 3, 4, 5].map((n) => queue.run(work(n))))
  expect([all, most, order]).toEqual([[1, 2, 3, 4, 5], 2, [1, 2, 5, 4, 3]])
})

test('what nobody waits for any more is dropped before it begins; failures free their place', async () => {
  const queue = new TileQueue(1)
  const stopper = new AbortController()
  const failing = queue.run(async () => {
    await turn()
    throw new Error('no')
  })
  let begun = false
  const dropped = queue.run(async () => {
    begun = true
  }, stopper.signal)
  stopper.abort()
  await expect(failing).rejects.toThrow('no')
  await expect(dropped).rejects.toMatchObject({ code: 'cancelled' })
  expect([begun, await queue.run(async () => 'next')]).toEqual([false, 'next'])
})
