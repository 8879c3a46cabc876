import { defaults as defaultInteractions } from 'ol/interaction/defaults.js'
import TileLayer from 'ol/layer/Tile.js'
import OlMap from 'ol/Map.js'
import Projection from 'ol/proj/Projection.js'
import TileImage from 'ol/source/TileImage.js'
import TileGrid from 'ol/tilegrid/TileGrid.js'
import View from 'ol/View.js'
import type { Layer, LayerView } from '#contract'
import type { TieMarks } from './tie-marks.ts'
import { pictureLevels, tileAddress, tilePixels } from './tile-address.ts'

/** A picture in its own pixels: column to the right, row down, so the map's y is minus the row. */
export function pictureMap(target: HTMLElement, layer: Layer, seen: LayerView, marks: TieMarks): OlMap {
  const { columns, rows } = layer
  const extent = [0, -rows, columns, 0]
  const projection = new Projection({ code: `picture:${layer.id}`, units: 'pixels', extent })
  const levels = pictureLevels(columns, rows)
  const address = tileAddress(layer, seen, 'picture')
  const source = new TileImage({
    projection,
    transition: 0,
    tileGrid: new TileGrid({
      origin: [0, 0],
      resolutions: Array.from({ length: levels }, (_, z) => 2 ** (levels - 1 - z)),
      tileSize: tilePixels,
      extent,
    }),
    tileUrlFunction: ([z, x, y]) => address(levels - 1 - z!, x!, y!),
  })
  const view = new View({
    projection,
    center: [columns / 2, -rows / 2],
    resolution: Math.max(columns, rows) / 400,
    minResolution: 1 / 16,
    maxResolution: (2 * Math.max(columns, rows)) / 100,
    enableRotation: false,
    showFullExtent: true,
  })
  const map = new OlMap({
    target,
    view,
    controls: [],
    interactions: defaultInteractions({
      altShiftDragRotate: false,
      pinchRotate: false,
      doubleClickZoom: false,
    }),
    keyboardEventTarget: target,
    layers: [new TileLayer({ source, extent }), marks.layer],
  })
  map.once('change:size', () => view.fit(extent, { padding: [16, 16, 16, 16] }))
  if (map.getSize()) view.fit(extent, { padding: [16, 16, 16, 16] })
  return map
}
