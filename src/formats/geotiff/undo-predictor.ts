/**
 * Undoes the prediction of rows in place. `bytes` are rows of `columns` pixels of `samples` values of `size` bytes side by side.
 *
 * Method  2: each value is a difference from the one before it of its sample, in whole numbers of its size. 3: the bytes of floating numbers stand
 *         plane by plane, the highest first, each a difference from the byte `samples` before.
 * Source  TIFF 6.0 section 14; Adobe Photoshop TIFF Technical Note 3 (2005).
 * Returns true where the bytes of values then stand lowest first whatever the file's order (method 3).
 */
export function undoPredictor(
  bytes: Uint8Array,
  predictor: number,
  form: {
    readonly columns: number
    readonly samples: number
    readonly size: number
    readonly little: boolean
  },
): boolean {
  const { columns, samples, size, little } = form
  const rowBytes = columns * samples * size
  const rows = Math.floor(bytes.length / rowBytes)
  const planes = new Uint8Array(predictor === 3 ? rowBytes : 0)
  for (let row = 0; row < rows; row++) {
    const part = bytes.subarray(row * rowBytes, (row + 1) * rowBytes)
    if (predictor === 3) undoFloating(part, planes, samples, size)
    else undoDifferences(part, samples, size, little)
  }
  return predictor === 3
}

function undoDifferences(row: Uint8Array, samples: number, size: number, little: boolean): void {
  if (size === 1) {
    for (let i = samples; i < row.length; i++) row[i] = row[i]! + row[i - samples]!
    return
  }
  const view = new DataView(row.buffer, row.byteOffset, row.length)
  const step = samples * size
  if (size === 2)
    for (let i = step; i < row.length; i += 2)
      view.setUint16(i, view.getUint16(i, little) + view.getUint16(i - step, little), little)
  else if (size === 4)
    for (let i = step; i < row.length; i += 4)
      view.setUint32(i, view.getUint32(i, little) + view.getUint32(i - step, little), little)
  else
    for (let i = step; i < row.length; i += 8)
      view.setBigUint64(i, view.getBigUint64(i, little) + view.getBigUint64(i - step, little), little)
}

/** Bytes are put in their places, the lowest first, as they are summed. */
function undoFloating(row: Uint8Array, planes: Uint8Array, samples: number, size: number): void {
  planes.set(row)
  const values = row.length / size
  if (samples > 1) for (let i = samples; i < planes.length; i++) planes[i] = planes[i]! + planes[i - samples]!
  for (let byte = 0, from = 0, sum = 0; byte < size; byte++) {
    for (let i = 0, at = size - 1 - byte; i < values; i++, at += size, from++) {
      sum = samples > 1 ? planes[from]! : (sum + planes[from]!) & 255
      row[at] = sum
    }
  }
}
