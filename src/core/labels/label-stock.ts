/** Label paper by its sizes, in millimetres: a sheet with a grid of labels, or a roll of one label after the other. */
export interface LabelStock {
  /** Also the value of a setting: `a4-3x8-63.5x33.9`, `roll-62x29`. */
  readonly key: string
  readonly pageWidth: number
  readonly pageHeight: number
  readonly columns: number
  readonly rows: number
  readonly width: number
  readonly height: number
  /** Left and top edge of the first label. */
  readonly left: number
  readonly top: number
  /** From the left edge of one label to that of the next, and from top edge to top edge. */
  readonly stepX: number
  readonly stepY: number
}

const a4 = { width: 210, height: 297 }

/** A grid on A4, centred on the sheet, with `gap` between columns and none between rows. */
function grid(columns: number, rows: number, width: number, height: number, gap: number): LabelStock {
  return {
    key: `a4-${columns}x${rows}-${width}x${height}`,
    pageWidth: a4.width,
    pageHeight: a4.height,
    columns,
    rows,
    width,
    height,
    left: (a4.width - columns * width - (columns - 1) * gap) / 2,
    top: (a4.height - rows * height) / 2,
    stepX: width + gap,
    stepY: height,
  }
}

/**
 * A continuous or die-cut roll: every label is a page of its own.
 *
 * Faults  RangeError for a label under 20 x 12 mm, which no code with a number beside it fits, or over 300 mm.
 */
export function rollStock(width: number, height: number): LabelStock {
  if (!(width >= 20 && width <= 300 && height >= 12 && height <= 300)) {
    throw new RangeError(`a label of ${width} x ${height} mm is too small or too large`)
  }
  return {
    key: `roll-${width}x${height}`,
    pageWidth: width,
    pageHeight: height,
    columns: 1,
    rows: 1,
    width,
    height,
    left: 0,
    top: 0,
    stepX: width,
    stepY: height,
  }
}

/** Sizes sold by many makers (common practice, from memory): a first sheet on plain paper shows whether they fit. */
export const labelStocks: readonly LabelStock[] = [
  grid(3, 8, 63.5, 33.9, 2.5),
  grid(3, 7, 63.5, 38.1, 2.5),
  grid(2, 8, 99.1, 33.9, 2.5),
  grid(2, 7, 99.1, 38.1, 2.5),
  grid(3, 8, 70, 37, 0),
  grid(4, 10, 48.5, 25.4, 0),
  grid(5, 13, 38.1, 21.2, 2.5),
  rollStock(62, 29),
  rollStock(54, 25),
  rollStock(89, 36),
  rollStock(100, 50),
]

/** Where one label lies: page from 0, left and top edge in millimetres. */
export interface LabelPlace {
  readonly page: number
  readonly x: number
  readonly y: number
}

/**
 * Places for `count` labels, row by row. `skip` leaves out labels already used from the first sheet, for a sheet put in again.
 *
 * Faults  RangeError where `skip` is not below the labels of a sheet.
 */
export function labelPlaces(stock: LabelStock, count: number, skip: number): readonly LabelPlace[] {
  const perPage = stock.columns * stock.rows
  if (!Number.isInteger(skip) || skip < 0 || skip >= perPage) {
    throw new RangeError(`0 to ${perPage - 1} labels may be left out, got ${skip}`)
  }
  return Array.from({ length: count }, (_, k) => {
    const slot = k + skip
    const onPage = slot % perPage
    return {
      page: Math.floor(slot / perPage),
      x: stock.left + (onPage % stock.columns) * stock.stepX,
      y: stock.top + Math.floor(onPage / stock.columns) * stock.stepY,
    }
  })
}
