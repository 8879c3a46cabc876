/**
 * Turns text into a value, and gives the very same value again for the same text. A list of 50,000 findspots that has not
 * changed then costs one comparison of text and draws nothing anew. Keeps one text for each key.
 */
export function sameAnswers(): <Value>(key: string, text: string) => Value {
  const kept = new Map<string, { readonly text: string; readonly value: unknown }>()
  return <Value>(key: string, text: string): Value => {
    const before = kept.get(key)
    if (before && before.text === text) return before.value as Value
    const value = JSON.parse(text) as Value
    kept.set(key, { text, value })
    return value
  }
}
