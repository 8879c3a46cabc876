import type { AreaView, Settings } from '#contract'
import { formatGridRef } from '#core/geodesy'
import { thinLine } from '#core/geometry'
import { ink, leftEdge, lowestLine, type Page, printable, textWidth, writeParagraph } from './page.ts'
import type { LandownerReportInput } from './report-input.ts'

type Polygons = AreaView['polygons']
type Pair = readonly [number, number]

/** How the ground lies on the paper: the plan's west and north edges, and points a metre. */
export interface Frame {
  readonly west: number
  readonly north: number
  readonly scale: number
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
  /** The plan is 1 to so much. */
  readonly ratio: number
}

const pointsAMetre = 72 / 0.0254
const ratios = [1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 7.5]
  .flatMap((first) => [100, 1000, 10_000, 100_000].map((unit) => first * unit))
  .sort((a, b) => a - b)
const legendHeight = 58
/** Fixes nearer than this to the last one drawn, metres, are passed over: standing still to dig leaves a knot of fixes, which must not show. */
const strideM = 3
/** Outlines of gaps are thinned by so much, metres: a third of a millimetre on a plan of 1 to 1500, and no trace of single fixes. */
const outlineM = 0.5

/** The plan: ground covered, gaps hatched, the area's outline, scale, north and a key. Nothing where there is no area. */
export function drawPlan(page: Page, input: LandownerReportInput): void {
  const { document } = page
  const rings = input.areas.flatMap((area) => area.polygons.flat())
  if (rings.length === 0) {
    writeParagraph(page, 'No search area is recorded, so there is no plan.', { gapAbove: 12 })
    return
  }
  const frame = planFrame(page, rings.flat())
  const { swathM } = input.survey.cover?.settings ?? input.survey.settings
  const areas = input.areas.map((area) => area.polygons)
  document.save()
  tracePolygons(document, frame, areas)
  document.clip('even-odd')
  drawSwath(document, frame, input.trackLines, swathM)
  document.restore()
  drawGaps(
    document,
    frame,
    input.gaps.map((gap) => gap.polygons.map((rings) => rings.map(thinned))),
  )
  tracePolygons(document, frame, areas)
  document.lineWidth(1.4).strokeColor(ink.text).lineJoin('round').stroke()
  drawLegend(page, frame, input.survey.cover?.settings ?? input.survey.settings, place(input, rings.flat()))
}

/** The largest round scale at which all of it fits below what is written. Areas too large for any get the smallest. */
export function planFrame(page: Page, pairs: readonly Pair[]): Frame {
  const { document } = page
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const [x, y] of pairs) {
    west = Math.min(west, x)
    south = Math.min(south, y)
    east = Math.max(east, x)
    north = Math.max(north, y)
  }
  const top = document.y + 14
  const width = textWidth(page)
  const height = lowestLine(page) - top - legendHeight
  const fits = (ratio: number): boolean => {
    const scale = pointsAMetre / ratio
    return (east - west) * scale <= width && (north - south) * scale <= height
  }
  const ratio = ratios.find(fits) ?? ratios.at(-1)!
  const scale = pointsAMetre / ratio
  const left = leftEdge + Math.max(0, (width - (east - west) * scale) / 2)
  return {
    west,
    north,
    scale,
    ratio,
    left,
    top,
    right: leftEdge + width,
    bottom: top + (north - south) * scale,
  }
}

export function onPaper({ west, north, scale, left, top }: Frame, x: number, y: number): Pair {
  return [left + (x - west) * scale, top + (north - y) * scale]
}

export function tracePolygons(document: PDFKit.PDFDocument, frame: Frame, areas: readonly Polygons[]): void {
  for (const ring of areas.flat(2)) {
    ring.forEach(([x, y], i) => {
      const at = onPaper(frame, x, y)
      if (i === 0) document.moveTo(...at)
      else document.lineTo(...at)
    })
    document.closePath()
  }
}

/** The walked lines as a band of the swath's width. */
function drawSwath(
  document: PDFKit.PDFDocument,
  frame: Frame,
  lines: readonly Float64Array[],
  swathM: number,
): void {
  document
    .lineWidth(swathM * frame.scale)
    .strokeColor(ink.covered)
    .lineCap('round')
    .lineJoin('round')
  for (const segment of lines.flatMap(segmentsOf)) {
    const line = inStrides(segment, strideM)
    for (let i = 0; i < line.length; i += 2) {
      const at = onPaper(frame, line[i]!, line[i + 1]!)
      if (i === 0) document.moveTo(...at)
      else document.lineTo(...at)
    }
    document.stroke()
  }
}

/** Splits a line at its NaN pairs. Segments of one fix are no walked ground and fall out. */
function segmentsOf(line: Float64Array): Float64Array[] {
  const segments: Float64Array[] = []
  let start = 0
  for (let i = 0; i <= line.length; i += 2) {
    if (i < line.length && !Number.isNaN(line[i]!)) continue
    if (i - start >= 4) segments.push(line.subarray(start, i))
    start = i + 2
  }
  return segments
}

/** The first fix, each next one at least a stride from the last kept, and the last. */
export function inStrides(line: Float64Array, stride: number): Float64Array {
  const kept: number[] = [line[0]!, line[1]!]
  for (let i = 2; i < line.length; i += 2) {
    const far = Math.hypot(line[i]! - kept.at(-2)!, line[i + 1]! - kept.at(-1)!)
    if (far >= stride || i === line.length - 2) kept.push(line[i]!, line[i + 1]!)
  }
  return Float64Array.from(kept)
}

function thinned(ring: readonly Pair[]): [number, number][] {
  const line = thinLine(Float64Array.from(ring.flat()), outlineM)
  return Array.from({ length: line.length / 2 }, (_, i) => [line[2 * i]!, line[2 * i + 1]!])
}

/** Gaps: hatched and outlined, so that they are told apart without colour. */
function drawGaps(document: PDFKit.PDFDocument, frame: Frame, gaps: readonly Polygons[]): void {
  if (gaps.length === 0) return
  document.save()
  tracePolygons(document, frame, gaps)
  document.clip('even-odd')
  drawHatch(document, leftEdge, frame.top, frame.right, frame.bottom)
  document.restore()
  tracePolygons(document, frame, gaps)
  document.lineWidth(0.35).strokeColor(ink.gap).stroke()
}

function drawHatch(
  document: PDFKit.PDFDocument,
  left: number,
  top: number,
  right: number,
  bottom: number,
): void {
  const height = bottom - top
  for (let x = left - height; x < right; x += 3) document.moveTo(x, bottom).lineTo(x + height, top)
  document.lineWidth(0.35).strokeColor(ink.gap).stroke()
}

/** Where the area lies, no finer than a kilometre square. */
function place({ survey }: LandownerReportInput, pairs: readonly Pair[]): string {
  if (survey.grid?.epsg !== 27_700) return survey.grid?.name ?? ''
  const squares = [...new Set(pairs.map(([x, y]) => formatGridRef(x, y, 4)))].sort()
  return `National Grid ${squares.slice(0, 4).join(', ')}${squares.length > 4 ? ' and others' : ''}`
}

function drawLegend(page: Page, frame: Frame, { swathM, minGapM2 }: Settings, placeWords: string): void {
  const { document } = page
  const y = frame.bottom + 16
  document.font('regular').fontSize(9).fillColor(ink.text)
  const keys: readonly [string, (x: number) => void][] = [
    ['search area', (x) => document.rect(x, y, 20, 9).lineWidth(1.4).strokeColor(ink.text).stroke()],
    [`walked, ${swathM} m wide`, (x) => document.rect(x, y, 20, 9).fill(ink.covered)],
    [`gap of ${minGapM2} m² or more`, (x) => drawGapKey(document, x, y)],
  ]
  let x = leftEdge
  for (const [words, draw] of keys) {
    draw(x)
    document.fillColor(ink.text).text(printable(page, words), x + 26, y - 1, { lineBreak: false })
    x += 26 + document.widthOfString(words) + 18
  }
  drawScaleBar(page, frame, y + 24, placeWords)
  drawNorth(page, frame, y)
  document.y = y + 44
}

function drawGapKey(document: PDFKit.PDFDocument, x: number, y: number): void {
  document.save()
  document.rect(x, y, 20, 9).clip()
  drawHatch(document, x, y, x + 20, y + 9)
  document.restore()
  document.rect(x, y, 20, 9).lineWidth(0.35).strokeColor(ink.gap).stroke()
}

/** A bar of round length, about a quarter of the width, and the scale and place in words. */
export function drawScaleBar(page: Page, { scale, ratio }: Frame, y: number, placeWords: string): void {
  const { document } = page
  const lengths = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000]
  const length = lengths.findLast((metres) => metres * scale <= textWidth(page) / 3) ?? 1
  const width = length * scale
  document.rect(leftEdge, y, width / 2, 4).fill(ink.text)
  document.rect(leftEdge, y, width, 4).lineWidth(0.6).strokeColor(ink.text).stroke()
  const words = `${length} m · 1 : ${ratio} on A4 · ${placeWords}`
  document
    .fillColor(ink.text)
    .text(printable(page, words), leftEdge + width + 10, y - 4, { lineBreak: false })
}

export function drawNorth(page: Page, { right }: Frame, y: number): void {
  const { document } = page
  const x = right - 12
  document.polygon([x, y - 4], [x + 5, y + 12], [x, y + 8], [x - 5, y + 12]).fill(ink.text)
  document
    .fontSize(8)
    .fillColor(ink.text)
    .text('grid north', x - 28, y + 15, { width: 40, align: 'right' })
}
