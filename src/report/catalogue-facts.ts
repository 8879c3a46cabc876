import { spanText, yearText } from '#core/dating'
import type { FindRecord } from '#core/finds'

/** What one find is, in one line: `Buckle · copper alloy · medieval`. */
export function headOf(find: FindRecord): string {
  const parts = [find.objectType?.text, find.materials.map(({ text }) => text).join(', '), find.period?.text]
  const known = parts.filter((part) => part !== undefined && part !== '')
  return known.length === 0 ? 'Not described yet' : known.join(' · ')
}

/** Its facts as labelled pieces, those that are recorded, in the order of a catalogue. */
export function factsOf(find: FindRecord): readonly string[] {
  const amount = (label: string, value: number | null, unit: string): string | null =>
    value === null ? null : `${label} ${Number(value.toPrecision(4))} ${unit}`
  const pieces = [
    datesOf(find),
    find.count === null || find.count === 1 ? null : `${find.count} pieces`,
    find.completeness,
    amount('weight', find.weightG, 'g'),
    amount('length', find.lengthMm, 'mm'),
    amount('width', find.widthMm, 'mm'),
    amount('thickness', find.thicknessMm, 'mm'),
    amount('diameter', find.diameterMm, 'mm'),
    amount('die axis', find.dieAxisH, 'h'),
    amount('depth', find.depthCm, 'cm'),
    find.damage.length === 0 ? null : `damage: ${find.damage.join(', ')}`,
  ]
  return pieces.filter((piece) => piece !== null)
}

function datesOf({ fromYear: from, toYear: to, certainty }: FindRecord): string | null {
  if (from === null && to === null) return null
  const span =
    from !== null && to !== null && from <= to
      ? spanText({ from, to })
      : [from === null ? null : `from ${yearText(from)}`, to === null ? null : `to ${yearText(to)}`]
          .filter((end) => end !== null)
          .join(' ')
  return certainty === null ? span : `${span} (${certainty})`
}

/** Its longer texts with their labels, those that are recorded. */
export function textsOf(find: FindRecord): readonly (readonly [label: string, text: string])[] {
  const given: readonly (readonly [string, string | null])[] = [
    ['', find.description],
    ['Decoration', find.decoration],
    ['Condition', find.condition],
    ['Surface', find.surface],
    ['How it lay', find.lay],
    ['Conservation', find.conservation],
    ['Parallels', find.parallels.length === 0 ? null : find.parallels.join('; ')],
    ['Warnings', find.warnings.length === 0 ? null : find.warnings.join('; ')],
  ]
  return given.flatMap(([label, text]) => (text === null ? [] : [[label, text] as const]))
}
