/** Pixels about a region that a response needs: of second derivatives, and of sums along a line. */
export const responsePad = 20

/** A region of flattened ground with `responsePad` pixels more on each side, 0 beyond the image. */
export interface PaddedFrame {
  readonly columns: number
  readonly rows: number
  readonly values: Float32Array
}
