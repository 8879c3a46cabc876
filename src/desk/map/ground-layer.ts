import Layer from 'ol/layer/Layer.js'
import type { FrameState } from 'ol/Map.js'
import { gridNumber } from '#ui'
import { gridSpacing, gridValues } from './grid-lines.ts'
import type { PlanColours } from './plan-colours.ts'

const labelFont = '500 12px "Atkinson Hyperlegible Next Variable", system-ui, sans-serif'

interface Sheet {
  readonly pen: CanvasRenderingContext2D
  readonly width: number
  readonly height: number
  readonly west: number
  readonly north: number
  readonly metresPerPixel: number
}

function rule(sheet: Sheet, step: number, colour: string, skip: number | null): void {
  const { pen, width, height, west, north, metresPerPixel } = sheet
  const isMain = (value: number): boolean =>
    skip !== null && Math.abs(value / skip - Math.round(value / skip)) < 1e-6
  pen.beginPath()
  for (const easting of gridValues(west, west + width * metresPerPixel, step)) {
    if (isMain(easting)) continue
    const x = Math.round((easting - west) / metresPerPixel) + 0.5
    pen.moveTo(x, 0)
    pen.lineTo(x, height)
  }
  for (const northing of gridValues(north - height * metresPerPixel, north, step)) {
    if (isMain(northing)) continue
    const y = Math.round((north - northing) / metresPerPixel) + 0.5
    pen.moveTo(0, y)
    pen.lineTo(width, y)
  }
  pen.strokeStyle = colour
  pen.lineWidth = 1
  pen.stroke()
}

/** Eastings along the top edge, northings turned along the left edge, as on a surveyor's plan. */
function writeLabels(sheet: Sheet, step: number, colours: PlanColours): void {
  const { pen, width, height, west, north, metresPerPixel } = sheet
  pen.font = labelFont
  pen.textAlign = 'center'
  pen.textBaseline = 'top'
  pen.lineWidth = 4
  pen.lineJoin = 'round'
  pen.strokeStyle = colours.paper
  pen.fillStyle = colours['grid-ink']
  const digits = step < 1 ? 1 : 0
  const write = (text: string, x: number, y: number): void => {
    pen.strokeText(text, x, y)
    pen.fillText(text, x, y)
  }
  for (const easting of gridValues(west, west + width * metresPerPixel, step)) {
    const x = (easting - west) / metresPerPixel
    if (x > 60 && x < width - 40) write(gridNumber(easting, digits), x, 5)
  }
  for (const northing of gridValues(north - height * metresPerPixel, north, step)) {
    const y = (north - northing) / metresPerPixel
    if (y < 60 || y > height - 40) continue
    pen.save()
    pen.translate(5, y)
    pen.rotate(-Math.PI / 2)
    write(gridNumber(northing, digits), 0, 0)
    pen.restore()
  }
}

function sheetOf(canvas: HTMLCanvasElement, frame: FrameState): Sheet | null {
  const [width = 0, height = 0] = frame.size
  const { pixelRatio } = frame
  const [deviceWidth, deviceHeight] = [Math.round(width * pixelRatio), Math.round(height * pixelRatio)]
  if (canvas.width !== deviceWidth || canvas.height !== deviceHeight) {
    canvas.width = deviceWidth
    canvas.height = deviceHeight
  }
  const pen = canvas.getContext('2d')
  const extent = frame.extent
  if (!pen || !extent) return null
  pen.setTransform(pixelRatio, 0, 0, pixelRatio, 0, 0)
  const metresPerPixel = frame.viewState.resolution
  return { pen, width, height, west: extent[0]!, north: extent[3]!, metresPerPixel }
}

function ownCanvas(): HTMLCanvasElement {
  const canvas = document.createElement('canvas')
  canvas.style.cssText = 'position:absolute;inset:0;width:100%;height:100%'
  return canvas
}

/** The plan's paper: a fine metric grid over a quiet ground. Cost of a frame: some dozens of lines. */
export function groundLayer(colours: () => PlanColours): Layer {
  const canvas = ownCanvas()
  return new Layer({
    zIndex: 0,
    render: (frame) => {
      const sheet = sheetOf(canvas, frame)
      if (!sheet) return canvas
      const { paper, 'grid-fine': fineColour, 'grid-main': mainColour } = colours()
      sheet.pen.fillStyle = paper
      sheet.pen.fillRect(0, 0, sheet.width, sheet.height)
      const { main, fine } = gridSpacing(sheet.metresPerPixel)
      rule(sheet, fine, fineColour, main)
      rule(sheet, main, mainColour, null)
      return canvas
    },
  })
}

/** The names of the grid lines, above all else; none while no grid is known. */
export function gridLabelLayer(colours: () => PlanColours, named: () => boolean): Layer {
  const canvas = ownCanvas()
  canvas.style.pointerEvents = 'none'
  return new Layer({
    zIndex: 90,
    render: (frame) => {
      const sheet = sheetOf(canvas, frame)
      if (!sheet) return canvas
      sheet.pen.clearRect(0, 0, sheet.width, sheet.height)
      if (named()) writeLabels(sheet, gridSpacing(sheet.metresPerPixel).main, colours())
      return canvas
    },
  })
}
