import bwip from 'bwip-js/node'

export type CodeKind = 'data-matrix' | 'qr'

/** A square code as modules: true is dark, row by row from the top, without its quiet zone. */
export interface CodeModules {
  readonly side: number
  readonly dark: readonly boolean[]
  /** Blank modules that the standard asks for all around: 1 for Data Matrix (ISO/IEC 16022), 4 for QR (ISO/IEC 18004). */
  readonly quiet: number
}

/** The modules of a code for a text, by bwip-js (its named export `raw` is another thing: a symbology). QR with error correction M: 15 % may be dirty. */
export function codeModules(text: string, kind: CodeKind): CodeModules {
  const [code] = kind === 'qr' ? bwip.raw('qrcode', text, 'eclevel=M') : bwip.raw('datamatrix', text, '')
  if (code === undefined || !('pixs' in code) || code.pixx !== code.pixy) {
    throw new RangeError(`no square code of “${text}”`)
  }
  return { side: code.pixx, dark: code.pixs.map((value) => value === 1), quiet: kind === 'qr' ? 4 : 1 }
}

/** Draws a code into a square of `size` points at x, y, quiet zone included, as one path so that no seams show. */
export function drawCode(
  document: PDFKit.PDFDocument,
  { side, dark, quiet }: CodeModules,
  { x, y, size }: { readonly x: number; readonly y: number; readonly size: number },
): void {
  const step = size / (side + 2 * quiet)
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      if (dark[row * side + column] !== true) continue
      const from = column
      while (column + 1 < side && dark[row * side + column + 1] === true) column++
      document.rect(x + (from + quiet) * step, y + (row + quiet) * step, (column + 1 - from) * step, step)
    }
  }
  document.fill('#000000')
}
