/** A weight or length understood, in grams or millimetres, and how it was reached. */
export interface Amount {
  readonly value: number
  /** One sentence with the factor where a unit was converted; null for grams and millimetres as written. */
  readonly told: string | null
}

export type AmountAnswer = Amount | { readonly refused: string }

interface Unit {
  readonly name: string
  readonly size: number
}

/**
 * Sizes in grams and millimetres. Exact by the international yard and pound agreement of 1959: pound 0.45359237 kg of 16
 * ounces and 7000 grains, inch 25.4 mm. Troy: pennyweight 24 grains, ounce 480 grains. Carat 0.2 g (metric, 1907).
 */
const pound = 453.59237
const grain = pound / 7000
const weights: readonly (readonly [string, Unit])[] = [
  ['g gram grams gramme grammes gm gms', { name: 'g', size: 1 }],
  ['kg kilo kilos kilogram kilograms', { name: 'kg', size: 1000 }],
  ['mg milligram milligrams', { name: 'mg', size: 0.001 }],
  ['oz ounce ounces', { name: 'oz (avoirdupois)', size: pound / 16 }],
  ['ozt troy-oz troy-ounce troy-ounces oz-troy ounces-troy oz-t', { name: 'oz troy', size: 480 * grain }],
  ['dwt pennyweight pennyweights', { name: 'dwt', size: 24 * grain }],
  ['grain grains', { name: 'grain', size: grain }],
  ['lb lbs pound pounds', { name: 'lb', size: pound }],
  ['ct carat carats', { name: 'carat', size: 0.2 }],
]
const lengths: readonly (readonly [string, Unit])[] = [
  ['mm millimetre millimetres millimeter millimeters', { name: 'mm', size: 1 }],
  ['cm centimetre centimetres centimeter centimeters', { name: 'cm', size: 10 }],
  ['m metre metres meter meters', { name: 'm', size: 1000 }],
  ['in inch inches "', { name: 'in', size: 25.4 }],
  ["ft foot feet '", { name: 'ft', size: 304.8 }],
]
const unclear: Readonly<Record<string, string>> = {
  gr: 'gr may be grams or grains: write g or grains.',
  dr: 'dr may be a dram of several kinds: write the weight in g.',
  dram: 'A dram is of several kinds: write the weight in g.',
  drams: 'A dram is of several kinds: write the weight in g.',
}
const table = (rows: typeof weights): ReadonlyMap<string, Unit> =>
  new Map(rows.flatMap(([words, unit]) => words.split(' ').map((word): [string, Unit] => [word, unit])))
const weightUnits = table(weights)
const lengthUnits = table(lengths)
const fractions: Readonly<Record<string, number>> = {
  '½': 0.5,
  '¼': 0.25,
  '¾': 0.75,
  '⅓': 1 / 3,
  '⅔': 2 / 3,
  '⅛': 0.125,
}

const piece = /^(\d[\d.,]*(?![\d.,]*\/)|[½¼¾⅓⅔⅛])?\s*(?:(\d+)\/(\d+)|([½¼¾⅓⅔⅛]))?\s*([a-z"'-]*)\.?\s*/

/**
 * A weight in grams from text: `12.5`, `3 oz`, `1 lb 2 oz`, `12 dwt`, `1 oz 4 dwt` (then a troy ounce), `½ oz`. `unit` is
 * what a number without a unit is in, null where nothing says. What may mean two things is asked, never guessed.
 *
 * @example weightFrom('12 dwt', null) // { value: 18.66208608, told: '12 dwt × 1.55517384 g' }
 */
export function weightFrom(text: string, unit: 'g' | 'kg' | 'oz' | null): AmountAnswer {
  const troy = /\b(?:dwt|pennyweight)/i.test(text)
  return amountFrom(text, unit, (word) => {
    if (troy && /^(oz|ounces?)$/.test(word)) return weightUnits.get('ozt') ?? null
    return weightUnits.get(word) ?? null
  })
}

/** A length in millimetres from text: `12`, `1.2 cm`, `3/4 in`, `2"`. As `weightFrom`. */
export function lengthFrom(text: string, unit: 'mm' | 'cm' | 'm' | 'in' | null): AmountAnswer {
  return amountFrom(text, unit, (word) => lengthUnits.get(word) ?? null)
}

const plain = (text: string): string =>
  text
    .normalize('NFC')
    .toLowerCase()
    .trim()
    .replace(/″|”|“|''/g, '"')
    .replace(/′|’/g, "'")
    .replace(/\btroy (oz|ounces?)\b/g, 'troy-$1')
    .replace(/\b(oz|ounces)\.? (troy|t)\b/g, '$1-$2')

function amountFrom(text: string, unit: string | null, unitOf: (word: string) => Unit | null): AmountAnswer {
  if (text.length > 60) return { refused: 'A weight or size is shorter than 60 characters.' }
  let rest = plain(text)
  if (rest === '') return { refused: 'There is no number in it.' }
  if (/^[-−]/.test(rest)) return { refused: `“${text.trim()}” is below zero.` }
  if (/\d\s*[a-z"]*\s*(?:-|–|to)\s*\d/.test(rest))
    return { refused: `“${text.trim()}” is a range: write one number.` }
  let value = 0
  const told: string[] = []
  let pieces = 0
  while (rest !== '') {
    const found = piece.exec(rest)
    if (found === null || found[0] === '' || (found[1] ?? found[2] ?? found[4]) === undefined) {
      return { refused: `“${text.trim()}” is no number with a unit.` }
    }
    const number = numberOf(found)
    if (typeof number === 'string') return { refused: number }
    const word = found[5] === '' ? unit : found[5]!
    if (word === null) return { refused: `“${text.trim()}” has no unit.` }
    if (Object.hasOwn(unclear, word)) return { refused: unclear[word]! }
    const known = unitOf(word)
    if (known === null) return { refused: `“${word}” is no unit that is known here.` }
    value += number * known.size
    if (known.size !== 1) told.push(`${plainNumber(number)} ${known.name} × ${plainNumber(known.size)}`)
    rest = rest.slice(found[0].length).replace(/^(?:and|&|,|\+)\s*/, '')
    pieces++
    if (pieces > 1 && found[5] === '') return { refused: `“${text.trim()}” is no number with a unit.` }
  }
  return { value, told: told.length === 0 ? null : told.join(' + ') }
}

const plainNumber = (value: number): string => String(Number(value.toPrecision(12)))

function numberOf(found: RegExpExecArray): number | string {
  const [, head, over, under, mark] = found
  let fraction = 0
  if (over !== undefined) fraction = Number(over) / Number(under)
  if (mark !== undefined) fraction = fractions[mark]!
  if (!Number.isFinite(fraction)) return 'A fraction over zero is no number.'
  if (head === undefined) return fraction
  if (Object.hasOwn(fractions, head)) return fractions[head]! + fraction
  if (/^\d{1,3},\d{3}$/.test(head))
    return `${head} may be ${head.replace(',', '')} or ${head.replace(',', '.')}: write a point for decimals.`
  const whole = head.replace(/,(?=\d{3}(?:\D|$))/g, /,\d{3}.*[.,]/.test(head) ? '' : ',')
  const value = Number(whole.replace(',', '.'))
  return Number.isFinite(value) ? value + fraction : `“${head}” is no number.`
}
