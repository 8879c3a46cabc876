import type { CodedWord, FindRecord } from './find-record.ts'
import { broaderTerms, type Vocabulary } from './vocabulary.ts'

/** One warning for keeping a find, with what in its record led to it. */
export interface CareWarning {
  readonly about: CareMatter
  readonly text: string
  /** Words of the record that led to it. */
  readonly because: string
}

export type CareMatter =
  | 'surface'
  | 'iron'
  | 'copper-alloy'
  | 'active-corrosion'
  | 'lead'
  | 'lead-health'
  | 'organic'
  | 'traces'
  | 'wet'
  | 'glass'
  | 'ask'

/** Common practice; a conservator decides. */
const sentences: Readonly<Record<CareMatter, string>> = {
  surface:
    'Do not rub, scrape, polish, electrolyse or coat. Loose soil comes off with water only where the surface is sound, never on iron.',
  iron: 'No water. Keep dry with silica gel, in a pierced bag in a sealed box.',
  'copper-alloy': 'Keep dry with silica gel, in a pierced bag in a sealed box.',
  'active-corrosion':
    'Powdery pale-green spots are active corrosion: keep it apart from the others and ask a conservator.',
  lead: 'Keep in inert plastic, never with card, oak or wool, whose acid vapour eats lead.',
  'lead-health': 'Lead and some corrosion products are toxic: wear gloves and wash hands.',
  organic: 'No water and no drying out by heat. If it came out wet, keep it wet and cool.',
  traces: 'Textile, wood, leather, gilding or paint may cling to it: do not wash, leave the soil on.',
  wet: 'Keep wet and cool in the dark, and ask a conservator soon.',
  glass: 'Do not wash or dry by heat: the surface may come off in flakes.',
  ask: 'What is fragile, rare or precious goes to a conservator as it is.',
}

const families: readonly (readonly [
  'iron' | 'copper-alloy' | 'lead' | 'organic' | 'glass' | 'precious' | 'metal',
  RegExp,
])[] = [
  ['copper-alloy', /\b(?:copper|bronze|brass|cu alloy|gunmetal|billon)\b/],
  ['iron', /\b(?:iron|steel)\b/],
  ['lead', /\b(?:lead|pewter)\b/],
  ['precious', /\b(?:gold|silver|electrum)\b/],
  ['metal', /\b(?:metal|tin|zinc|alloy)\b/],
  [
    'organic',
    /\b(?:wood|leather|textile|wool|felt|flax|horn|bone|antler|ivory|tooth|animal|plant|vegetal|paper|amber|jet|shale)\b/,
  ],
  ['glass', /\b(?:glass|enamel|faience)\b/],
]
const traces = /\b(?:textile|thread|wood|leather|gild\w*|gilt|paint\w*|tinn\w*|silvering|mineralised)\b/
const active = /\b(?:active|bronze disease|powdery|pale[- ]green)\b/
const wet = /\b(?:wet|waterlogged|damp)\b/

/**
 * Warnings for keeping a find, from its materials and what was written of its surface, condition and conservation. Metal
 * always brings the first rule. A material counts by its own name, then by those of its broader terms. Without any material
 * only what was written of its state is looked at. Common practice (docs/methods/finds.md#care); a conservator decides.
 *
 * Cost  some microseconds a find.
 */
export function careFor(
  find: Pick<FindRecord, 'materials' | 'surface' | 'condition' | 'conservation' | 'decoration'>,
  materials: Vocabulary,
): readonly CareWarning[] {
  const warnings: CareWarning[] = []
  const add = (about: CareMatter, because: string): void => {
    if (!warnings.some((warning) => warning.about === about))
      warnings.push({ about, text: sentences[about], because })
  }
  const named = find.materials.map((word) => ({ word, family: familyOf(word, materials) }))
  const metal = named.find(({ family }) => family !== null && !['organic', 'glass'].includes(family))
  if (metal !== undefined) add('surface', metal.word.text)
  for (const { word, family } of named) {
    if (family === 'lead') {
      add('lead', word.text)
      add('lead-health', word.text)
    } else if (family === 'precious') add('ask', word.text)
    else if (family !== null && family !== 'metal') add(family, word.text)
  }
  const state = [find.surface, find.condition, find.conservation, find.decoration].join(' ; ').toLowerCase()
  const seen = (pattern: RegExp): string | null => pattern.exec(state)?.[0] ?? null
  const mayCorrode = named.length === 0 || named.some(({ family }) => family === 'copper-alloy')
  const [isActive, clings, isWet] = [seen(active), seen(traces), seen(wet)]
  if (isActive !== null && mayCorrode) add('active-corrosion', isActive)
  if (clings !== null && !/\bno (?:traces?|gilding|textile)\b/.test(state)) add('traces', clings)
  if (isWet !== null && named.some(({ family }) => family === 'organic')) add('wet', isWet)
  return warnings
}

function familyOf(word: CodedWord, materials: Vocabulary): (typeof families)[number][0] | null {
  const term = word.term === null ? undefined : materials.byKey.get(word.term)
  const names =
    term === undefined
      ? [word.text]
      : [term.name, ...broaderTerms(materials, term.key).map(({ name }) => name)]
  for (const name of names) {
    const family = families.find(([, pattern]) => pattern.test(name.toLowerCase()))
    if (family !== undefined) return family[0]
  }
  return null
}
