import ImageLayer from 'ol/layer/Image.js'
import type Projection from 'ol/proj/Projection.js'
import ImageCanvasSource from 'ol/source/ImageCanvas.js'
import type { FindspotView } from '#contract'
import { drawFindspot, findspotSize, rgbOf } from '#ui'
import { paintDots } from './dots.ts'
import type { PlanColours } from './plan-colours.ts'

/** Above this many in sight, findspots are drawn as small dots. */
const many = 3000
/** Above this many the dots are as small as can be seen, so that what lies under them still shows. */
const crowd = 15_000

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

/** Where the points within an extent fall on a canvas whose north-west corner is the extent's: interleaved pixels. */
function placesOn(xy: Float64Array, extent: readonly number[], pixelsPerMetre: number): Float64Array {
  const [west = 0, south = 0, east = 0, north = 0] = extent
  const places = new Float64Array(xy.length)
  let used = 0
  for (let i = 0; i < xy.length; i += 2) {
    const [x, y] = [xy[i]!, xy[i + 1]!]
    if (x < west || x > east || y < south || y > north) continue
    places[used] = (x - west) * pixelsPerMetre
    places[used + 1] = (north - y) * pixelsPerMetre
    used += 2
  }
  return places.subarray(0, used)
}

type Pen = CanvasRenderingContext2D

function drawFew(pen: Pen, places: Float64Array, ratio: number, colours: PlanColours): void {
  const symbol = stamp(findspotSize.plain, ratio, colours)
  const half = symbol.width / 2
  for (let i = 0; i < places.length; i += 2)
    pen.drawImage(symbol, Math.round(places[i]! - half), Math.round(places[i + 1]! - half))
}

function drawMany(pen: Pen, places: Float64Array, ratio: number, colours: PlanColours): void {
  const { width, height } = pen.canvas
  const picture = pen.createImageData(width, height)
  const reach = places.length > 2 * crowd ? 1 : findspotSize.many
  paintDots(picture, places, Math.round(reach * ratio), rgbOf(colours.findspot))
  pen.putImageData(picture, 0, 0)
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
    // `resolution` is metres per map pixel; the canvas has `pixelRatio` device pixels to each.
    const places = placesOn(xy, extent, pixelRatio / resolution)
    if (pen && places.length > 2 * many) drawMany(pen, places, pixelRatio, colours())
    else if (pen) drawFew(pen, places, pixelRatio, colours())
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
