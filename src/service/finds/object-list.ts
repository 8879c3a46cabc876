import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import type { ObjectList, ObjectListReply } from '#contract'
import { readWordList } from '#formats/word-list'
import type { FindCatalogue } from '#store'
import { tableKind, tableRows } from './find-tables.ts'

/** The survey's own list of words for objects; null where it has none. */
export function objectList(catalogue: FindCatalogue): ObjectList | null {
  const list = catalogue.wordList()
  return list && { file: list.file, terms: list.words }
}

/** Puts the list of a file (CSV, xlsx) in place of the one there is. Faults: those of the file, 'missing-columns', 'empty-file'. */
export async function takeObjectList(
  catalogue: FindCatalogue,
  name: string,
  file: string,
): Promise<ObjectListReply> {
  const bytes = new Uint8Array(readFileSync(file))
  const { rows, faults } = await tableRows(name, bytes)
  const list = readWordList(rows, name)
  const sha256 = createHash('sha256').update(bytes).digest('hex')
  catalogue.takeWordList(list.terms, `list of words ${name}`, { name, kind: tableKind(bytes), bytes, sha256 })
  return { terms: list.terms.length, faults: [...faults, ...list.faults] }
}
