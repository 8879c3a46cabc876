/** A number as people type it: a point or a comma for the decimals, spaces anywhere. Null where it is none. */
export function numberFrom(text: string): number | null {
  const tidy = text.replace(/[\s\u202f]/g, '').replace(',', '.')
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(tidy)) return null
  return Number(tidy)
}
