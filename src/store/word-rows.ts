import { parsedJson, textAt } from './cells.ts'
import type { Connection } from './connection.ts'
import type { ListedWord, WordList } from './find-catalogue.ts'
import { keepOriginal } from './keep-original.ts'
import type { OriginalFile } from './survey-file.ts'
import type { Writer } from './writer.ts'

const list = 'object'

/** The own list of words for objects, in its order; null where the survey has none. */
export function readWordList(on: Connection): WordList | null {
  const rows = on.all(
    `SELECT words.*, originals.name AS file FROM words LEFT JOIN originals ON originals.id = original_id
      WHERE list = ? ORDER BY words.id`,
    list,
  )
  const [first] = rows
  if (first === undefined) return null
  const words = rows.map((row): ListedWord => {
    const others = parsedJson(textAt(row, 'other_names') ?? '[]')
    return {
      key: textAt(row, 'key') ?? '',
      name: textAt(row, 'name') ?? '',
      otherNames: Array.isArray(others) ? others.map(String) : [],
      broader: textAt(row, 'broader'),
    }
  })
  return { file: textAt(first, 'file'), words }
}

/** Puts a list in place of the one there is; an empty one takes it away. */
export function writeWordList(
  writer: Writer,
  words: readonly ListedWord[],
  from: OriginalFile | null,
  uuid: () => string,
): void {
  const before = writer.on.all('SELECT uuid FROM words WHERE list = ? ORDER BY id', list)
  for (const row of before) writer.remove('words', String(row.uuid))
  const originalId = from === null ? null : keepOriginal(writer, from, uuid)
  for (const { key, name, otherNames, broader } of words) {
    writer.insert('words', {
      uuid: uuid(),
      list,
      key,
      name,
      other_names: otherNames.length === 0 ? null : JSON.stringify(otherNames),
      broader,
      original_id: originalId,
    })
  }
}
