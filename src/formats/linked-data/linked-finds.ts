import { yearIndex } from '#core/dating'
import type { CodedWord, FindRecord } from '#core/finds'
import { aat, context } from './vocabulary.ts'

type Node = { readonly [key: string]: unknown }

/** A place that may be given out with a find: as exact as the caller lets it be. */
export interface SharedPlace {
  readonly label: string
  /** A point as WKT, longitude before latitude; null for a place by its name only. */
  readonly wkt: string | null
}

export interface LinkedOptions {
  readonly survey: { readonly uuid: string; readonly title: string }
  /** Null keeps the place back. */
  readonly placeOf: (find: FindRecord) => SharedPlace | null
}

/**
 * Finds as JSON-LD with the terms of CIDOC CRM (ISO 21127) and the names of Linked Art. What is personal stays out: finder,
 * visit, notes, where it is now. Years are written as xsd:dateTime, in which 0000 is 1 BC. Coded terms keep their keys as
 * identifiers beside the words, for the vocabularies give no address that was checked.
 *
 * Cost    one pass.
 * Source  docs/methods/finds.md#linked-data
 */
export function linkedFinds(finds: readonly FindRecord[], { survey, placeOf }: LinkedOptions): string {
  const set = `urn:uuid:${survey.uuid}`
  const graph = [
    { id: set, type: 'Set', _label: survey.title },
    ...finds.map((find) => linkedFind(find, set, placeOf(find))),
  ]
  return `${JSON.stringify({ '@context': context, '@graph': graph }, null, 1)}\n`
}

function linkedFind(find: FindRecord, set: string, place: SharedPlace | null): Node {
  const what = find.objectType?.text ?? 'Find'
  const texts = textsOf(find)
  const dimensions = dimensionsOf(find)
  return {
    id: `${set}#${find.number}`,
    type: 'HumanMadeObject',
    _label: `${what} ${find.number}`,
    identified_by: [{ type: 'Identifier', content: find.number, classified_as: [aat.number] }],
    ...(find.objectType === null ? {} : { classified_as: [wordNode(find.objectType, 'Type')] }),
    ...(find.materials.length === 0
      ? {}
      : { made_of: find.materials.map((word) => wordNode(word, 'Material')) }),
    ...(dimensions.length === 0 ? {} : { dimension: dimensions }),
    ...(find.count === null ? {} : { number_of_parts: find.count }),
    ...(texts.length === 0 ? {} : { referred_to_by: texts }),
    ...productionOf(find),
    ...encounterOf(place),
    member_of: { id: set, type: 'Set' },
  }
}

function wordNode({ text, term }: CodedWord, type: string): Node {
  return {
    type,
    _label: text,
    ...(term === null ? {} : { identified_by: [{ type: 'Identifier', content: term }] }),
  }
}

function dimensionsOf(find: FindRecord): readonly Node[] {
  const measured = [
    [find.weightG, aat.weight, aat.grams],
    [find.lengthMm, aat.length, aat.millimetres],
    [find.widthMm, aat.width, aat.millimetres],
    [find.thicknessMm, aat.thickness, aat.millimetres],
    [find.diameterMm, aat.diameter, aat.millimetres],
  ] as const
  return measured.flatMap(([value, kind, unit]) =>
    value === null ? [] : [{ type: 'Dimension', classified_as: [kind], value, unit }],
  )
}

function textsOf(find: FindRecord): readonly Node[] {
  const fields = ['description', 'decoration', 'condition', 'surface', 'completeness'] as const
  const named = fields.flatMap((field) => {
    const content = find[field]
    return content === null
      ? []
      : [
          {
            type: 'LinguisticObject',
            _label: field,
            content,
            classified_as: field === 'description' ? [aat.description] : [{ type: 'Type', _label: field }],
          },
        ]
  })
  const parallels = find.parallels.map((content) => ({
    type: 'LinguisticObject',
    _label: 'parallel',
    content,
    classified_as: [{ type: 'Type', _label: 'parallel' }],
  }))
  return [...named, ...parallels]
}

function productionOf(find: FindRecord): Node {
  const { fromYear: from, toYear: to, period, certainty } = find
  if (from === null && to === null && period === null) return {}
  const label = certainty === null ? {} : { _label: `date ${certainty}` }
  const timespan = {
    type: 'TimeSpan',
    ...label,
    ...(from === null ? {} : { begin_of_the_begin: `${isoYear(from)}-01-01T00:00:00Z` }),
    ...(to === null ? {} : { end_of_the_end: `${isoYear(to)}-12-31T23:59:59Z` }),
  }
  return {
    produced_by: {
      type: 'Production',
      ...(from === null && to === null ? {} : { timespan }),
      ...(period === null ? {} : { during: [wordNode(period, 'Period')] }),
    },
  }
}

/** XML Schema 1.1: four figures or more, 0000 is 1 BC, a minus before it. */
function isoYear(year: number): string {
  const index = yearIndex(year)
  return `${index < 0 ? '-' : ''}${String(Math.abs(index)).padStart(4, '0')}`
}

function encounterOf(place: SharedPlace | null): Node {
  if (place === null) return {}
  return {
    encountered_by: [
      {
        type: 'Encounter',
        took_place_at: [
          { type: 'Place', _label: place.label, ...(place.wkt === null ? {} : { defined_by: place.wkt }) },
        ],
      },
    ],
  }
}
