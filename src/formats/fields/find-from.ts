import type { RecordedFind, RecordedFindspot } from '#core/record'
import { decimal } from '#formats/decimal'
import { timeSeconds } from '#formats/time'
import { attributesOf } from '#formats/track'
import { type Field, fieldOf, type Unit } from './field-of.ts'
import { quantity } from './quantity.ts'

const findFields = ['number', 'object', 'material', 'period', 'count', 'weight', 'depth'] as const
type FindField = (typeof findFields)[number]

export function isFindField(field: Field): field is FindField {
  return (findFields as readonly Field[]).includes(field)
}

/** What a file says of a find, as text; units of the column where it names them. */
export interface FindTexts {
  readonly texts: ReadonlyMap<Field, string>
  readonly weightUnit: Unit
  readonly depthUnit: Unit
  readonly comma: boolean
  /** Told of a value that cannot be read; the find is kept without it. */
  readonly onBad: (field: Field, text: string) => void
}

/** The find that the texts tell of, or null where they tell of none. An object that is not named is an empty text. */
export function findFrom({ texts, weightUnit, depthUnit, comma, onBad }: FindTexts): RecordedFind | null {
  const text = (field: FindField): string | null => {
    const value = texts.get(field)?.trim() ?? ''
    return value === '' ? null : value
  }
  if (findFields.every((field) => text(field) === null)) return null
  const measured = (field: 'weight' | 'depth'): number | null => {
    const given = text(field)
    if (given === null) return null
    const value =
      field === 'weight'
        ? quantity(given, 'weight', weightUnit, comma)
        : quantity(given, 'length', depthUnit, comma)
    if (value >= 0) return value
    onBad(field, given)
    return null
  }
  return {
    number: text('number'),
    object: text('object') ?? '',
    material: text('material'),
    period: text('period'),
    count: countOf(text('count'), onBad),
    weightG: measured('weight'),
    depthM: measured('depth'),
  }
}

function countOf(text: string | null, onBad: FindTexts['onBad']): number {
  if (text === null) return 1
  const count = decimal(text)
  if (Number.isInteger(count) && count >= 1) return count
  onBad('count', text)
  return 1
}

interface SpotFacts {
  readonly epsg: number
  readonly x: number
  readonly y: number
  readonly elevation: number | null
  /** Name, note and time that the format itself states; they come before properties of the same meaning. */
  readonly name: string | null
  readonly note: string | null
  readonly time: number | null
  readonly properties: ReadonlyMap<string, string>
  readonly onBad: FindTexts['onBad']
}

/**
 * A findspot from a feature with free properties (GeoJSON, KML). Properties whose names say so become name, note, time,
 * accuracy and find; a find needs an object, or two of its other values, since "number" or "count" alone may be of
 * anything. Every other property, and one that cannot be read, stays in `attributes`.
 */
export function findspotFrom(facts: SpotFacts): RecordedFindspot {
  const texts = new Map<Field, string>()
  const keyOf = new Map<Field, string>()
  let units: { weightUnit: Unit; depthUnit: Unit } = { weightUnit: 'g', depthUnit: 'cm' }
  for (const [key, value] of facts.properties) {
    const guess = fieldOf(key)
    if (guess === null || texts.has(guess.field) || value.trim() === '') continue
    texts.set(guess.field, value)
    keyOf.set(guess.field, key)
    if (guess.field === 'weight') units = { ...units, weightUnit: guess.unit ?? 'g' }
    if (guess.field === 'depth') units = { ...units, depthUnit: guess.unit ?? 'cm' }
  }
  const attributes = new Map(facts.properties)
  const used = (field: Field): void => {
    const key = keyOf.get(field)
    if (key !== undefined) attributes.delete(key)
  }
  const bad = new Set<Field>()
  const onBad = (field: Field, text: string): void => {
    bad.add(field)
    facts.onBad(field, text)
  }
  const evidence = findFields.filter((field) => texts.has(field))
  const isFind = texts.has('object') || evidence.length >= 2
  const find = isFind ? findFrom({ texts, ...units, comma: false, onBad }) : null
  if (find !== null) for (const field of evidence) if (!bad.has(field)) used(field)
  const own = <T>(field: Field, stated: T | null, read: (text: string) => T | null): T | null => {
    const text = texts.get(field)
    if (stated !== null || text === undefined) return stated
    const value = read(text)
    if (value === null) onBad(field, text)
    else used(field)
    return value
  }
  const finite = (value: number): number | null => (Number.isNaN(value) ? null : value)
  return {
    epsg: facts.epsg,
    name: own('name', facts.name, (text) => text),
    x: facts.x,
    y: facts.y,
    accuracyM: own('accuracy', null, (text) => finite(quantity(text, 'length', 'm', false))),
    elevation: facts.elevation,
    time: own('time', facts.time, (text) => finite(timeSeconds(text))),
    note: own('note', facts.note, (text) => text),
    find,
    attributes: attributesOf(attributes),
  }
}
