import type { Layer } from '#contract'

/** A layer for tests: an image of 400 x 300 m at 10 cm a pixel, unless said otherwise. */
export function madeUpLayer(more: Partial<Layer> = {}): Layer {
  return {
    id: 3,
    name: 'Low Field',
    kind: 'image',
    takenOn: '2026-07-02',
    fileName: 'low.tif',
    found: true,
    inside: false,
    columns: 4000,
    rows: 3000,
    bands: 4,
    pixelM: 0.1,
    epsg: 27_700,
    expectedErrorM: null,
    bounds: [560_000, 349_700, 560_400, 350_000],
    views: ['as-is', 'equalised', 'band'],
    tileM: 0.1,
    levels: 5,
    ready: true,
    stamp: 'stamp-1',
    ...more,
  }
}
