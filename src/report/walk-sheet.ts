import type {
  AreaView,
  BearingFrom,
  Constraint,
  ConstraintSet,
  LaneFigures,
  PlannedLane,
  Target,
} from '#contract'
import { bearingInWords } from '#core/lanes'
import {
  ink,
  leftEdge,
  lowestLine,
  type Page,
  printable,
  startPage,
  textWidth,
  writeHeading,
  writePageFoot,
  writeParagraph,
} from './page.ts'
import { drawNorth, drawScaleBar, type Frame, onPaper, planFrame, tracePolygons } from './plan-drawing.ts'
import { dayOf } from './words.ts'

export interface WalkSheetInput {
  readonly code: string
  readonly title: string
  readonly demo: boolean
  readonly plan: string
  readonly area: AreaView | null
  readonly lanes: readonly PlannedLane[]
  readonly figures: LaneFigures | null
  /** How the bearing was come by; null where nobody told. */
  readonly bearingFrom: BearingFrom | null
  readonly targets: readonly Target[]
  readonly constraints: readonly ConstraintSet[]
  /** Ground to be left alone or careful on. */
  readonly avoided: readonly AreaView[]
  readonly cautions: readonly string[]
  readonly gridName: string
  readonly madeAt: Date
}

const gridSteps = [10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000]
/** Points that grid lines are apart at least. */
const gridApart = 40
const findRows = 18
/** Points below the map from which what is to be minded begins there. */
const leastBelowMap = 200

/**
 * A sheet to take out, as the bytes of a PDF, A4: the map with its grid, the lanes and targets, then the targets with their
 * references, what is to be minded, and an empty list for finds.
 */
export async function walkSheet(input: WalkSheetInput): Promise<Uint8Array> {
  const page = startPage(`${input.title}: ${input.plan}`, input.madeAt)
  writeHead(page, input)
  drawMap(page, input)
  if (lowestLine(page) - page.document.y < leastBelowMap) page.document.addPage()
  writeTargets(page, input.targets)
  writeHeading(page, 'To be minded')
  for (const caution of [...(input.figures?.notes ?? []), ...input.cautions])
    writeParagraph(page, `• ${caution}`, { gapAbove: 2 })
  drawFindList(page)
  return writePageFoot(page, `Survey ${input.code} · made ${dayOf(input.madeAt.toISOString())} with Lynchet`)
}

function writeHead(page: Page, { title, plan, area, figures, bearingFrom, demo }: WalkSheetInput): void {
  const { document } = page
  document.font('bold').fontSize(18)
  writeParagraph(page, `${plan}`)
  document.font('regular').fontSize(10)
  const along =
    figures && figures.bearing !== null && bearingFrom
      ? ` ${bearingInWords(figures.bearing, bearingFrom)}`
      : ''
  const facts = figures
    ? `${figures.lanes} lanes${along}, ${(figures.lengthM / 1000).toFixed(2)} km, ${figures.spacingM} m apart, ${figures.hours.toFixed(1)} h with rests`
    : ''
  writeParagraph(page, [title, area?.name, facts].filter(Boolean).join(' · '), { gapAbove: 2 })
  if (demo) writeParagraph(page, 'Demo survey: the farm and all in it are invented.', { gapAbove: 2 })
}

function cornersOf({ area, lanes, targets }: WalkSheetInput): (readonly [number, number])[] {
  const ofLanes = lanes.flatMap(({ xy }) =>
    Array.from({ length: xy.length / 2 }, (_, i) => [xy[2 * i]!, xy[2 * i + 1]!] as const),
  )
  const outline = area ? area.polygons.flat(2) : ofLanes
  return outline.length > 0 ? outline : targets.map(({ easting, northing }) => [easting, northing] as const)
}

function drawMap(page: Page, input: WalkSheetInput): void {
  const corners = cornersOf(input)
  if (corners.length === 0) {
    writeParagraph(page, 'The plan has no lanes and the survey no targets, so there is no map.', {
      gapAbove: 12,
    })
    return
  }
  const { document } = page
  const frame = planFrame(page, corners)
  drawGrid(page, frame)
  document.save()
  document.rect(leftEdge, frame.top, frame.right - leftEdge, frame.bottom - frame.top).clip()
  drawLanes(document, frame, input.lanes)
  const avoided = input.avoided.map(({ name, polygons }) => ({ name, polygons, line: null, point: null }))
  drawConstraints(page, frame, [...input.constraints.flatMap(({ constraints }) => constraints), ...avoided])
  document.restore()
  if (input.area) {
    tracePolygons(document, frame, [input.area.polygons])
    document.lineWidth(1.4).strokeColor(ink.text).undash().stroke()
  }
  drawTargets(page, frame, input.targets)
  const y = frame.bottom + 22
  document.font('regular').fontSize(9)
  drawScaleBar(page, frame, y, input.gridName)
  drawNorth(page, frame, y - 6)
  document.y = y + 30
}

/** Lines of the grid at a round step, named at the edges. */
function drawGrid(page: Page, frame: Frame): void {
  const { document } = page
  const step = gridSteps.find((metres) => metres * frame.scale >= gridApart) ?? 10_000
  const east = frame.west + (frame.right - frame.left) / frame.scale
  const south = frame.north - (frame.bottom - frame.top) / frame.scale
  document.font('regular').fontSize(7).fillColor(ink.soft).lineWidth(0.3).strokeColor(ink.line)
  for (let e = Math.ceil(frame.west / step) * step; e <= east; e += step) {
    const [x] = onPaper(frame, e, frame.north)
    document.moveTo(x, frame.top).lineTo(x, frame.bottom).stroke()
    document.text(String(e), x - 20, frame.top - 9, { width: 40, align: 'center', lineBreak: false })
  }
  for (let n = Math.ceil(south / step) * step; n <= frame.north; n += step) {
    const [, y] = onPaper(frame, frame.west, n)
    document.moveTo(frame.left, y).lineTo(frame.right, y).stroke()
    document.text(String(n), frame.left - 30, y - 3, { lineBreak: false })
  }
}

function drawLanes(document: PDFKit.PDFDocument, frame: Frame, lanes: readonly PlannedLane[]): void {
  document.lineWidth(0.5).strokeColor(ink.soft)
  for (const { xy } of lanes) {
    for (let i = 0; i < xy.length; i += 2) {
      const at = onPaper(frame, xy[i]!, xy[i + 1]!)
      if (i === 0) document.moveTo(...at)
      else document.lineTo(...at)
    }
  }
  document.stroke()
}

function isOn(frame: Frame, easting: number, northing: number): boolean {
  const [x, y] = onPaper(frame, easting, northing)
  return x > frame.left && x < frame.right && y > frame.top && y < frame.bottom
}

function drawConstraints(page: Page, frame: Frame, shapes: readonly Omit<Constraint, 'id'>[]): void {
  const { document } = page
  document.lineWidth(1).strokeColor(ink.gap).fillColor(ink.gap).fontSize(7)
  for (const { name, polygons, line, point } of shapes) {
    tracePolygons(document, frame, [polygons])
    line?.forEach(([e, n], i) => {
      const at = onPaper(frame, e, n)
      if (i === 0) document.moveTo(...at)
      else document.lineTo(...at)
    })
    const places = point ? [point] : (line ?? polygons[0]?.[0] ?? [])
    const first = places.find(([e, n]) => isOn(frame, e, n)) ?? places[0]
    if (!first) continue
    const [x, y] = onPaper(frame, first[0], first[1])
    if (point)
      document
        .moveTo(x - 4, y - 4)
        .lineTo(x + 4, y + 4)
        .moveTo(x - 4, y + 4)
        .lineTo(x + 4, y - 4)
    document.dash(3, { space: 2 }).stroke().undash()
    document.text(printable(page, name), x + 6, y - 3, { lineBreak: false })
  }
}

function drawTargets(page: Page, frame: Frame, targets: readonly Target[]): void {
  const { document } = page
  document.font('bold').fontSize(8).fillColor(ink.text)
  targets.forEach(({ easting, northing }, i) => {
    const [x, y] = onPaper(frame, easting, northing)
    if (x < leftEdge || x > frame.right || y < frame.top || y > frame.bottom) return
    document.polygon([x, y], [x - 4, y - 8], [x + 4, y - 8]).fill(ink.text)
    document.text(String(i + 1), x + 5, y - 10, { lineBreak: false })
  })
  document.font('regular')
}

function writeTargets(page: Page, targets: readonly Target[]): void {
  if (targets.length === 0) return
  writeHeading(page, 'Targets')
  targets.forEach(({ name, note, gridRef, easting, northing }, i) => {
    const place = gridRef ?? `${easting.toFixed(0)} E, ${northing.toFixed(0)} N`
    const words = `${i + 1}  ${place}  ${name}${note ? `: ${note}` : ''}`
    writeParagraph(page, words, { gapAbove: 1 })
  })
}

const columns = [
  ['Number', 0.18],
  ['Place', 0.26],
  ['What', 0.36],
  ['Depth', 0.2],
] as const

/** Ruled rows to write finds into; on a page of its own where too few would fit. */
function drawFindList(page: Page): void {
  const { document } = page
  const height = 20
  if (lowestLine(page) - document.y < 10 * height) document.addPage()
  writeHeading(page, 'Finds')
  const rows = Math.min(findRows, Math.floor((lowestLine(page) - document.y - 20) / height))
  const [top, width] = [document.y + 6, textWidth(page)]
  let x = leftEdge
  document.fontSize(8.5).fillColor(ink.soft)
  for (const [name, share] of columns) {
    document.text(name, x + 3, top, { lineBreak: false })
    document.moveTo(x, top + 12).lineTo(x, top + 12 + rows * height)
    x += share * width
  }
  document.moveTo(x, top + 12).lineTo(x, top + 12 + rows * height)
  for (let row = 0; row <= rows; row++) {
    const y = top + 12 + row * height
    document.moveTo(leftEdge, y).lineTo(leftEdge + width, y)
  }
  document.lineWidth(0.5).strokeColor(ink.line).stroke()
}
