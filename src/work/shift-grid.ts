import { readFileSync } from 'node:fs'
import { brotliDecompressSync } from 'node:zlib'
import { decodeShiftGrid, type ShiftGrid } from '#core/geodesy'

let loaded: ShiftGrid | null = null

/** The OSTN15 shift grid that ships with the program (see data/OSTN15-NOTICE.md), read once. About 60 ms the first time. */
export function ostn15(): ShiftGrid {
  loaded ??= decodeShiftGrid(
    brotliDecompressSync(readFileSync(new URL('../../data/ostn15.bin.br', import.meta.url))),
  )
  return loaded
}
