import type { LevelWindow } from './levels.ts'

/** Columns and rows of a window at most, without what it needs beyond: two of them are the whole of an image of 2000 x 2000. */
export interface WindowLimit {
  readonly columns: number
  readonly rows: number
}

export const usualLimit: WindowLimit = { columns: 2048, rows: 1024 }

/** Even windows, each within `limit`, that cover a level once. */
export function evenWindows(
  { columns, rows }: { readonly columns: number; readonly rows: number },
  limit: WindowLimit,
): LevelWindow[] {
  return parts(rows, limit.rows).flatMap(([top, tall]) =>
    parts(columns, limit.columns).map(([left, wide]) => ({ left, top, columns: wide, rows: tall })),
  )
}

/** Even parts of a length, each at most `most` long: where they start, and how long they are. */
function parts(length: number, most: number): [number, number][] {
  const count = Math.ceil(length / most)
  const start = (i: number): number => Math.floor((i * length) / count)
  return Array.from({ length: count }, (_, i) => [start(i), start(i + 1) - start(i)])
}
