import { expect, test } from 'vitest'
import { placesFirst } from './import-queue.ts'

test('what places a picture is sent before it, all else in its order', () => {
  const names = ['b.png', 'walk.gpx', 'b.pgw', 'a.tif', 'a.tfw', 'a.PRJ', 'c.wld', 'c.jpeg']
  expect(placesFirst(names.map((name) => ({ name }))).map(({ name }) => name)).toEqual([
    'b.pgw',
    'a.tfw',
    'a.PRJ',
    'c.wld',
    'b.png',
    'walk.gpx',
    'a.tif',
    'c.jpeg',
  ])
})
