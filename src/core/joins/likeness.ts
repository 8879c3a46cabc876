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

/** Two fragments that cannot be of one object: another material, or dates that do not meet. */
export function cannotJoin(a: Fragment, b: Fragment, materials: Vocabulary): boolean {
  if (a.material !== null && b.material !== null && wordLikeness(a.material, b.material, materials) === 0)
    return true
  const apart = (first: Fragment, second: Fragment): boolean =>
    first.toYear !== null && second.fromYear !== null && first.toYear < second.fromYear
  return apart(a, b) || apart(b, a)
}

/** All grounds of a pair on which both say something. `spreadM` is how far pieces of one object commonly lie apart. */
export function likenesses(
  a: Fragment,
  b: Fragment,
  materials: Vocabulary,
  spreadM: number,
): readonly Likeness[] {
  const found: Likeness[] = []
  if (a.material !== null && b.material !== null) {
    const likeness = wordLikeness(a.material, b.material, materials)
    found.push({
      ground: 'material',
      likeness,
      text: likeness === 1 ? `both ${a.material.text}` : `${a.material.text} and ${b.material.text}`,
    })
  }
  const apart = Math.hypot(a.x - b.x, a.y - b.y)
  const reach = Math.hypot(spreadM, a.accuracyM ?? 0, b.accuracyM ?? 0)
  found.push({
    ground: 'distance',
    likeness: 1 / (1 + (apart / reach) ** 2),
    text: `${apart.toFixed(1)} m apart`,
  })
  pushMeasured(found, 'thickness', a.thicknessMm, b.thicknessMm, 0.3, 'mm thick')
  pushMeasured(found, 'curve', a.curveMm, b.curveMm, 2, 'mm across the curve')
  if (a.breaks.length > 0 && b.breaks.length > 0) {
    const shared = a.breaks.filter((kind) => b.breaks.includes(kind))
    found.push(
      shared.length > 0
        ? { ground: 'breaks', likeness: 0.9, text: `breaks of both: ${shared.join(', ')}` }
        : {
            ground: 'breaks',
            likeness: 0.2,
            text: `breaks differ: ${a.breaks.join(', ')}; ${b.breaks.join(', ')}`,
          },
    )
  }
  if (a.objectType !== null && b.objectType !== null) {
    const same = sameWord(a.objectType, b.objectType)
    found.push({
      ground: 'object',
      likeness: same ? 0.9 : 0.3,
      text: same ? `both ${a.objectType.text}` : `${a.objectType.text} and ${b.objectType.text}`,
    })
  }
  if (a.fromYear !== null && a.toYear !== null && b.fromYear !== null && b.toYear !== null) {
    const meet = a.fromYear <= b.toYear && b.fromYear <= a.toYear
    found.push({ ground: 'date', likeness: meet ? 0.7 : 0, text: meet ? 'dates meet' : 'dates do not meet' })
  }
  return found
}

/** Corrosion and hammering change sizes by a tenth or so (common practice); at least `least` millimetres. */
function pushMeasured(
  found: Likeness[],
  ground: JoinGround,
  a: number | null,
  b: number | null,
  least: number,
  what: string,
): void {
  if (a === null || b === null) return
  const allowed = Math.max(least, 0.1 * Math.max(a, b))
  found.push({ ground, likeness: Math.exp(-0.5 * ((a - b) / allowed) ** 2), text: `${a} and ${b} ${what}` })
}

const sameWord = (a: CodedWord, b: CodedWord): boolean =>
  a.term !== null && b.term !== null
    ? a.term === b.term
    : a.text.trim().toLowerCase() === b.text.trim().toLowerCase()

/** 1 for the same, 0.7 where one is the broader of the other, 0.4 for words that are not coded and differ, else 0. */
function wordLikeness(a: CodedWord, b: CodedWord, materials: Vocabulary): number {
  if (sameWord(a, b)) return 1
  if (a.term === null || b.term === null) return 0.4
  const holds = (term: string, broader: string): boolean =>
    broaderTerms(materials, term).some(({ key }) => key === broader)
  if (holds(a.term, b.term) || holds(b.term, a.term)) return 0.7
  // An alloy may be named by its kind at one find and by its chief metal at another.
  const names = [a, b].map(({ term }) => materials.byKey.get(term!)?.name.toLowerCase() ?? '')
  return names.every((name) => /\b(?:copper|bronze|brass)\b/.test(name)) ? 0.7 : 0
}
