import { expect, test } from 'vitest'
import { madeUpLayer } from '../../../test/desk/made-up-layer.ts'
import type { ShownPicture } from './picture-stack.ts'
import { withSight } from './sight.ts'

const shown = (id: number, opacity: number): ShownPicture => ({
  layer: madeUpLayer({ id }),
  look: { shown: true, opacity, blend: 'multiply', view: { view: 'as-is' } },
})

test('the picture of the open mark lies above the others, once, whole and in its view', () => {
  const sight = { layer: madeUpLayer({ id: 2 }), view: { view: 'band', number: 2 } } as const
  const pictures = withSight([shown(1, 1), shown(2, 0.5), shown(3, 1)], sight)
  expect(pictures.map(({ layer }) => layer.id)).toEqual([2, 1, 3])
  expect(pictures[0]!.look).toEqual({ shown: true, opacity: 1, blend: 'normal', view: sight.view })
})

test('without an open mark nothing changes', () => {
  const pictures = [shown(1, 1)]
  expect(withSight(pictures, null)).toBe(pictures)
})
