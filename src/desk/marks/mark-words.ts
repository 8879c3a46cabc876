import type { Mark, MarkKind, MarkState, SoughtKind } from '#contract'
import { areaText, lengthText, threeFigures, wholeNumber } from '#ui'

const narrow = '\u202f'

export const kindNames: Readonly<Record<MarkKind, string>> = {
  ring: 'Ring',
  pit: 'Pit',
  line: 'Line',
  enclosure: 'Enclosure',
}

/** Kinds as they are looked for and listed. */
export const groupNames: Readonly<Record<SoughtKind, string>> = {
  ring: 'Rings',
  pit: 'Pits',
  line: 'Lines and enclosures',
}

export const stateNames: Readonly<Record<MarkState, string>> = {
  candidate: 'To decide',
  accepted: 'Accepted',
  unsure: 'Unsure',
  rejected: 'Rejected',
}

/** Length of a line of places, or the way round an enclosure, metres. */
export function outlineLength(outline: Mark['outline']): number {
  return outline.slice(1).reduce((sum, [e, n], i) => {
    const [e0, n0] = outline[i]!
    return sum + Math.hypot(e - e0, n - n0)
  }, 0)
}

function outlineArea(outline: Mark['outline']): number {
  let twice = 0
  for (const [i, [e, n]] of outline.entries()) {
    const [e1, n1] = outline[(i + 1) % outline.length]!
    twice += e * n1 - e1 * n
  }
  return Math.abs(twice) / 2
}

/** How large a mark is: a diameter, a length or an area. */
export function sizeText({ kind, diameterM, outline }: Mark): string {
  if (diameterM !== null) return `${threeFigures(diameterM)}${narrow}m`
  return kind === 'line' ? lengthText(outlineLength(outline)) : areaText(outlineArea(outline))
}

/** `Ring 5, 20.0 m`. */
export const markName = (mark: Mark): string => `${kindNames[mark.kind]} ${mark.id}, ${sizeText(mark)}`

/** How often chance gives such a mark, as a sentence; null for what was not measured so. */
export function chanceText(falseAlarmsPerKm2: number | null): string | null {
  if (falseAlarmsPerKm2 === null) return null
  if (falseAlarmsPerKm2 <= 0) return 'None so good came up by chance on ground like that of this picture.'
  if (falseAlarmsPerKm2 >= 0.95) {
    return `About ${countOf(falseAlarmsPerKm2)} so good in each km² of ground like this picture would be chance.`
  }
  return `About one so good in ${countOf(1 / falseAlarmsPerKm2)}${narrow}km² of ground like this picture would be chance.`
}

/** The same in a few words, for a list: `chance: 1 in 8 km²`. */
export function shortChance(falseAlarmsPerKm2: number | null): string {
  if (falseAlarmsPerKm2 === null) return 'drawn by hand'
  if (falseAlarmsPerKm2 <= 0) return 'chance: none so good'
  if (falseAlarmsPerKm2 >= 0.95) return `chance: ${countOf(falseAlarmsPerKm2)} a km²`
  return `chance: 1 in ${countOf(1 / falseAlarmsPerKm2)}${narrow}km²`
}

/** Two figures at most: what is estimated from surrogates is known no better. */
function countOf(value: number): string {
  const rounded = Number(value.toPrecision(value >= 1 ? 2 : 1))
  return rounded >= 10 ? wholeNumber(rounded) : String(rounded)
}

const points = [
  'north',
  'north-east',
  'east',
  'south-east',
  'south',
  'south-west',
  'west',
  'north-west',
] as const

/** The point of the compass of a bearing, degrees. */
export function pointOf(bearing: number): string {
  return points[Math.round((((bearing % 360) + 360) % 360) / 45) % 8]!
}

/** How much of a mark is seen, and where a ring is not: `75 % of the circle; not seen to the north-east (90°)`. Null where that is not known. */
export function seenText({
  kind,
  completeness,
  arcGaps,
}: Pick<Mark, 'kind' | 'completeness' | 'arcGaps'>): string | null {
  if (completeness === null) return null
  const all = { ring: 'the circle', pit: 'the circle', line: 'its length', enclosure: 'the way round' }
  const seen = `${Math.round(completeness * 100)}${narrow}% of ${all[kind]}`
  const wide = arcGaps.filter(({ fromDeg, toDeg }) => toDeg - fromDeg >= 10)
  if (wide.length === 0) return seen
  const gaps = wide.map(
    ({ fromDeg, toDeg }) => `${pointOf((fromDeg + toDeg) / 2)} (${Math.round(toDeg - fromDeg)}°)`,
  )
  return `${seen}; not seen to the ${gaps.join(', ')}`
}

/** What runs beside a line; null where nothing does. */
export const pairText = (pairSpacingM: number | null): string | null =>
  pairSpacingM === null ? null : `another line, ${threeFigures(pairSpacingM)}${narrow}m from middle to middle`

/** A tone in words, for an image or a terrain. */
export const toneText = (tone: 'dark' | 'light', terrain: boolean): string =>
  tone === 'dark'
    ? terrain
      ? 'dark in this view'
      : 'darker than the ground beside it'
    : terrain
      ? 'light in this view'
      : 'lighter than the ground beside it'
