import { readFileSync } from 'node:fs'
import type { Vocabularies } from '#contract'

const listFile = (name: string): URL => new URL(`../../../data/vocabularies/${name}.json`, import.meta.url)

let kept: Vocabularies | null = null

/** The open vocabularies that come with the program, with their notices. Read once. */
export function vocabularies(): Vocabularies {
  kept ??= {
    materials: JSON.parse(readFileSync(listFile('object-materials'), 'utf8')) as Vocabularies['materials'],
    periods: JSON.parse(readFileSync(listFile('periods'), 'utf8')) as Vocabularies['periods'],
  }
  return kept
}
