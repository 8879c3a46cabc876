import type { FaultCode } from '#core/faults'

/** Why a TIFF cannot be read; becomes a FileFault at the door. */
export class TiffTrouble extends Error {
  override readonly name = 'TiffTrouble'
  readonly code: FaultCode

  constructor(code: FaultCode, text: string) {
    super(text)
    this.code = code
  }
}
