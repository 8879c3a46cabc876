import { broaderTerms, type CodedWord, type Vocabulary } from '#core/finds'
import type { Fragment } from './fragment.ts'

export type JoinGround = 'material' | 'distance' | 'thickness' | 'curve' | 'breaks' | 'object' | 'date'

/** How alike two fragments are on one ground: 0 speaks against, 0.5 says nothing, 1 speaks for. */
export interface Likeness {
  readonly ground: JoinGround
  readonly likeness: number
  /** One phrase with the figures. */
  readonly text: string
}

/** What each ground weighs. Our own choice (docs/methods/finds.md#joins), for ranking what to look at, not for proof. */
export const groundWeights: Readonly<Record<JoinGround, number>> = {
  material: 3,
  distance: 3,
  thickness: 2,
  curve: 2,
  breaks: 1,
  object: 1,
  date: 1,
}

export const grounds = Object.keys(groundWeights) as readonly JoinGround[]

/** What all pairs are compared by. */
export interface Comparing {
  /** How far pieces of one object commonly lie apart, metres. */
  readonly spreadM: number
  readonly materialLikeness: (a: CodedWord, b: CodedWord) => number
}

/** Two fragments that cannot be of one object: another material, or dates that do not meet. */
export function cannotJoin(a: Fragment, b: Fragment, comparing: Comparing): boolean {
  return likenessOn('material', a, b, comparing) === 0 || likenessOn('date', a, b, comparing) === 0
}

/** The likeness on one ground; null where one of the two says nothing. */
export function likenessOn(
  ground: JoinGround,
  a: Fragment,
  b: Fragment,
  comparing: Comparing,
): number | null {
  switch (ground) {
    case 'material':
      return a.material === null || b.material === null
        ? null
        : comparing.materialLikeness(a.material, b.material)
    case 'distance': {
      const reach2 = comparing.spreadM ** 2 + (a.accuracyM ?? 0) ** 2 + (b.accuracyM ?? 0) ** 2
      return 1 / (1 + ((a.x - b.x) ** 2 + (a.y - b.y) ** 2) / reach2)
    }
    case 'thickness':
      return measured(a.thicknessMm, b.thicknessMm, 0.3)
    case 'curve':
      return measured(a.curveMm, b.curveMm, 2)
    case 'breaks':
      if (a.breaks.length === 0 || b.breaks.length === 0) return null
      return a.breaks.some((kind) => b.breaks.includes(kind)) ? 0.9 : 0.2
    case 'object':
      return a.objectType === null || b.objectType === null
        ? null
        : sameWord(a.objectType, b.objectType)
          ? 0.9
          : 0.3
    case 'date':
      return dates(a, b)
  }
}

/** The same in words, for a pair on which both say something. */
export function likenessText(ground: JoinGround, a: Fragment, b: Fragment): string {
  const both = (first: string, second: string): string =>
    first === second ? `both ${first}` : `${first} and ${second}`
  switch (ground) {
    case 'material':
      return both(a.material?.text ?? '', b.material?.text ?? '')
    case 'distance':
      return `${Math.hypot(a.x - b.x, a.y - b.y).toFixed(1)} m apart`
    case 'thickness':
      return `${a.thicknessMm} and ${b.thicknessMm} mm thick`
    case 'curve':
      return `${a.curveMm} and ${b.curveMm} mm across the curve`
    case 'breaks':
      return `breaks: ${a.breaks.join(', ')} and ${b.breaks.join(', ')}`
    case 'object':
      return both(a.objectType?.text ?? '', b.objectType?.text ?? '')
    case 'date':
      return dates(a, b) === 0 ? 'dates do not meet' : 'dates meet'
  }
}

/** Corrosion and hammering change sizes by a tenth or so (common practice); at least `least` millimetres. */
function measured(a: number | null, b: number | null, least: number): number | null {
  if (a === null || b === null) return null
  return Math.exp(-0.5 * ((a - b) / Math.max(least, 0.1 * Math.max(a, b))) ** 2)
}

function dates(a: Fragment, b: Fragment): number | null {
  const before = (first: Fragment, second: Fragment): boolean =>
    first.toYear !== null && second.fromYear !== null && first.toYear < second.fromYear
  if (before(a, b) || before(b, a)) return 0
  const known = [a.fromYear, a.toYear, b.fromYear, b.toYear].every((year) => year !== null)
  return known ? 0.7 : null
}

const sameWord = (a: CodedWord, b: CodedWord): boolean =>
  a.term !== null && b.term !== null
    ? a.term === b.term
    : a.text.trim().toLowerCase() === b.text.trim().toLowerCase()

/**
 * Compares materials by a vocabulary: 1 for the same, 0.7 where one is the broader of the other or both are alloys of copper, 0.4
 * for words that are not coded and differ, else 0. Each pair of words is looked up once.
 */
export function materialComparer(materials: Vocabulary): Comparing['materialLikeness'] {
  const ids = new Map<string, number>()
  const idOf = new WeakMap<CodedWord, number>()
  const seen = new Map<number, number>()
  const numbered = (word: CodedWord): number => {
    let id = idOf.get(word)
    if (id === undefined) {
      const key = `${word.term}\t${word.text}`
      id = ids.get(key) ?? ids.size
      ids.set(key, id)
      idOf.set(word, id)
    }
    return id
  }
  return (a, b) => {
    const key = numbered(a) * 2 ** 26 + numbered(b)
    const known = seen.get(key)
    if (known !== undefined) return known
    const likeness = compareMaterials(a, b, materials)
    seen.set(key, likeness)
    return likeness
  }
}

function compareMaterials(a: CodedWord, b: CodedWord, materials: Vocabulary): number {
  if (sameWord(a, b)) return 1
  if (a.term === null || b.term === null) return 0.4
  const holds = (term: string, broader: string): boolean =>
    broaderTerms(materials, term).some(({ key }) => key === broader)
  if (holds(a.term, b.term) || holds(b.term, a.term)) return 0.7
  // An alloy may be named by its kind at one find and by its chief metal at another.
  const names = [a, b].map(({ term }) => materials.byKey.get(term!)?.name.toLowerCase() ?? '')
  return names.every((name) => /\b(?:copper|bronze|brass)\b/.test(name)) ? 0.7 : 0
}
