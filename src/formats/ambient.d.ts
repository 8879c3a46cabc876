/** The one global that turning bytes into text needs. Node, workers and pages all have it. */
declare class TextDecoder {
  constructor(label?: string, options?: { readonly fatal?: boolean; readonly ignoreBOM?: boolean })
  readonly encoding: string
  decode(input?: Uint8Array, options?: { readonly stream?: boolean }): string
}
