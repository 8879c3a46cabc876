import Fill from 'ol/style/Fill.js'
import Stroke from 'ol/style/Stroke.js'
import Style from 'ol/style/Style.js'
import { gapHatch, type LineSymbol } from '#ui'
import { faded, type PlanColours } from './plan-colours.ts'

/** A line symbol as map styles: the pale casing under it, then the line. */
export function lineStyles(symbol: LineSymbol, colours: PlanColours, fill: Fill | null = null): Style[] {
  const { colour, width, dash, casing } = symbol
  const stroke = new Stroke({
    color: colours[colour],
    width,
    lineDash: [...dash],
    lineCap: dash[0] === 1 ? 'round' : 'butt',
    lineJoin: 'round',
  })
  const line = new Style({ stroke, zIndex: 1 })
  if (fill) line.setFill(fill)
  if (casing === 0) return [line]
  return [
    new Style({ stroke: new Stroke({ color: faded(colours.halo, 0.85), width: casing }), zIndex: 0 }),
    line,
  ]
}

/** Slanting lines over a gap, so that it does not speak by colour alone. */
export function hatchFill(colours: PlanColours): Fill {
  const ratio = Math.min(3, Math.ceil(devicePixelRatio))
  const side = gapHatch.pitch * ratio
  const canvas = document.createElement('canvas')
  canvas.width = side
  canvas.height = side
  const pen = canvas.getContext('2d')
  if (!pen) return new Fill({ color: faded(colours['gap-wash'], 0.12) })
  pen.fillStyle = faded(colours['gap-wash'], 0.07)
  pen.fillRect(0, 0, side, side)
  pen.strokeStyle = faded(colours['gap-wash'], 0.6)
  pen.lineWidth = gapHatch.width * ratio
  pen.beginPath()
  for (const shift of [-side, 0, side]) {
    pen.moveTo(shift, side)
    pen.lineTo(shift + side, 0)
  }
  pen.stroke()
  const pattern = pen.createPattern(canvas, 'repeat')
  return pattern ? new Fill({ color: pattern }) : new Fill({ color: faded(colours['gap-wash'], 0.12) })
}
