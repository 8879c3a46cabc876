import { plainSpelling } from './vocabulary.ts'

/** A word as it is written in some finds, with how many. */
export interface WordCount {
  readonly text: string
  readonly count: number
}

/** A word of a survey: the spellings that differ only in case, accents or signs count as one. */
export interface UsedWord extends WordCount {
  /** The commonest spelling is `text`; all of them, the commonest first. */
  readonly spellings: readonly WordCount[]
}

const inOrder = (a: string, b: string): number => (a === b ? 0 : a < b ? -1 : 1)
const byCount = (a: WordCount, b: WordCount): number =>
  b.count - a.count || inOrder(a.text.toLowerCase(), b.text.toLowerCase()) || inOrder(a.text, b.text)

/**
 * The words that are used, the commonest first; empty texts are no words. Nothing is changed by it: which spellings are to become one is for a
 * person to say. Cost: one pass over the texts.
 *
 * @example wordsUsed(['buckle', 'Buckle', 'buckle'])[0].count // 3
 */
export function wordsUsed(texts: Iterable<string>): readonly UsedWord[] {
  const counts = new Map<string, number>()
  for (const text of texts) if (text.trim() !== '') counts.set(text, (counts.get(text) ?? 0) + 1)
  const alike = new Map<string, WordCount[]>()
  for (const [text, count] of counts) {
    const key = plainSpelling(text)
    const beside = alike.get(key)
    if (beside === undefined) alike.set(key, [{ text, count }])
    else beside.push({ text, count })
  }
  return [...alike.values()]
    .map((spellings) => {
      spellings.sort(byCount)
      const count = spellings.reduce((sum, one) => sum + one.count, 0)
      return { text: spellings[0]!.text, count, spellings }
    })
    .sort(byCount)
}
