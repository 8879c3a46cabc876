import ImageLayer from 'ol/layer/Image.js'
import type Projection from 'ol/proj/Projection.js'
import ImageCanvasSource from 'ol/source/ImageCanvas.js'
import type { FindspotView } from '#contract'
import { drawFindspot, findspotSize } from '#ui'
import type { PlanColours } from './plan-colours.ts'

/** Above this many in sight, findspots are drawn small. */
const many = 3000

export interface FindspotLayer {
  readonly layer: ImageLayer<ImageCanvasSource>
  readonly show: (findspots: readonly FindspotView[]) => void
  readonly place: (projection: Projection) => void
  readonly redraw: () => void
  /** The findspots within `reach` metres of a place, nearest first. Cost: one pass over all, 0.2 ms for 50,000. */
  readonly near: (easting: number, northing: number, reach: number) => readonly FindspotView[]
}

/** One symbol drawn once, then stamped: 50,000 stamps are cheaper than 50,000 outlines. */
function stamp(reach: number, ratio: number, colours: PlanColours): HTMLCanvasElement {
  const side = Math.ceil((reach + 3) * 2 * ratio)
  const canvas = document.createElement('canvas')
  canvas.width = side
  canvas.height = side
  const pen = canvas.getContext('2d')
  if (pen) {
    pen.translate(side / 2, side / 2)
    pen.scale(ratio, ratio)
    drawFindspot(pen, 0, 0, reach, { ink: colours.findspot, halo: colours.halo })
  }
  return canvas
}

/** Indices of the points of interleaved `xy` within an extent (west, south, east, north). */
function pointsWithin(xy: Float64Array, extent: readonly number[]): number[] {
  const [west = 0, south = 0, east = 0, north = 0] = extent
  const inside: number[] = []
  for (let i = 0; i < xy.length; i += 2) {
    const [x, y] = [xy[i]!, xy[i + 1]!]
    if (x >= west && x <= east && y >= south && y <= north) inside.push(i / 2)
  }
  return inside
}

/** All findspots as one picture, drawn anew when the map has come to rest. */
export function findspotLayer(colours: () => PlanColours): FindspotLayer {
  let findspots: readonly FindspotView[] = []
  let xy = new Float64Array(0)
  const layer = new ImageLayer<ImageCanvasSource>({ zIndex: 60 })

  const draw = (
    extent: readonly number[],
    resolution: number,
    pixelRatio: number,
    size: readonly number[],
  ): HTMLCanvasElement => {
    const canvas = document.createElement('canvas')
    const [width = 0, height = 0] = size
    canvas.width = width
    canvas.height = height
    const pen = canvas.getContext('2d')
    if (!pen) return canvas
    const inside = pointsWithin(xy, extent)
    const symbol = stamp(inside.length > many ? findspotSize.many : findspotSize.plain, pixelRatio, colours())
    const half = symbol.width / 2
    // `resolution` is metres per map pixel; the canvas has `pixelRatio` device pixels to each.
    const scale = pixelRatio / resolution
    const [west = 0, , , north = 0] = extent
    for (const i of inside) {
      const x = (xy[2 * i]! - west) * scale
      const y = (north - xy[2 * i + 1]!) * scale
      pen.drawImage(symbol, Math.round(x - half), Math.round(y - half))
    }
    return canvas
  }

  return {
    layer,
    show: (next) => {
      findspots = next
      xy = Float64Array.from(next.flatMap(({ easting, northing }) => [easting, northing]))
      layer.getSource()?.changed()
    },
    place: (projection) =>
      layer.setSource(
        new ImageCanvasSource({ canvasFunction: draw, projection, ratio: 1.6, interpolate: false }),
      ),
    redraw: () => layer.getSource()?.changed(),
    near: (easting, northing, reach) => {
      const found: { readonly i: number; readonly d: number }[] = []
      for (let i = 0; 2 * i < xy.length; i += 1) {
        const d = Math.hypot(xy[2 * i]! - easting, xy[2 * i + 1]! - northing)
        if (d <= reach) found.push({ i, d })
      }
      return found.sort((a, b) => a.d - b.d).map(({ i }) => findspots[i]!)
    },
  }
}
