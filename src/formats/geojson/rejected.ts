import type { FaultCode } from '#core/faults'

/** A feature that is not as RFC 7946 has it. Never leaves this folder: it becomes a fault of the file. */
export class Rejected extends Error {
  readonly code: FaultCode

  constructor(code: FaultCode, reason: string) {
    super(reason)
    this.code = code
  }
}
