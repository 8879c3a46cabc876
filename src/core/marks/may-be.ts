/** One thing that a mark of some size may be. */
export interface MayBe {
  readonly what: string
  /** Diameters that it has, or widths, metres. */
  readonly fromM: number
  readonly toM: number
}

export interface WhatItMayBe {
  /** Possible archaeology; never more than possible. */
  readonly possible: readonly MayBe[]
  /** Ordinary or natural things of that size. */
  readonly ordinary: readonly MayBe[]
  /** What a person should ask of it before believing it. */
  readonly questions: readonly string[]
  /** Where the ranges come from. */
  readonly source: string
}

/** Those of a table whose range holds a size, metres. */
export const ofSize = (table: readonly MayBe[], sizeM: number): MayBe[] =>
  table.filter(({ fromM, toM }) => sizeM >= fromM && sizeM <= toM)
