import { readFileSync } from 'node:fs'
import { brotliDecompressSync } from 'node:zlib'
import { decodeShiftGrid, type ShiftGrid } from '#core/geodesy'

/** The same, as `decodeShiftGrid` takes it. */
export function ostn15Bytes(): Uint8Array {
  return brotliDecompressSync(readFileSync(new URL('../../data/ostn15.bin.br', import.meta.url)))
}

let loaded: ShiftGrid | null = null

/** The OSTN15 shift grid that ships with the program (see data/OSTN15-NOTICE.md), read once. About 60 ms the first time. */
export function ostn15(): ShiftGrid {
  loaded ??= decodeShiftGrid(ostn15Bytes())
  return loaded
}
