import type { RecordedFind } from '#core/record'
import { decimal } from '#formats/decimal'
import { type Field, findFrom } from '#formats/fields'

/** Namespace of the elements that this project writes into the extensions of GPX. */
export const ownNamespace = 'urn:lynchet:gpx:1'

/** Path, below its owner, of an own element. */
const ownPath = (name: string): string => `extensions/lynchet:${name}`

/** Where a ring belongs: `area 0 part 0 ring 0`, each counted from 0. */
export const ringKey = ownPath('ring')
/** Stands in a trk that is a planned line: it must not come back as walked ground. */
export const plannedKey = ownPath('planned')
/** The name of the area itself; the name of the trk also says which ring it is. */
export const areaNameKey = ownPath('area')

const findKeys: readonly (readonly [string, Field])[] = [
  ['number', 'number'],
  ['object', 'object'],
  ['material', 'material'],
  ['period', 'period'],
  ['count', 'count'],
  ['weight_g', 'weight'],
  ['depth_m', 'depth'],
]

export interface OwnWaypoint {
  readonly find: RecordedFind | null
  readonly accuracyM: number | null
  /** True where the name was put there only for receivers to show. */
  readonly unnamed: boolean
}

/** Takes out of the attributes of a waypoint what `writeGpx` put into its extension. What cannot be read stays. */
export function takeOwn(attributes: Map<string, string>): OwnWaypoint {
  const texts = new Map<Field, string>()
  const bad = new Set<Field>()
  for (const [key, field] of findKeys) {
    const text = attributes.get(ownPath(key))
    if (text !== undefined) texts.set(field, text)
  }
  const onBad = (field: Field): void => {
    bad.add(field)
  }
  const find = findFrom({ texts, weightUnit: 'g', depthUnit: 'm', comma: false, onBad })
  for (const [key, field] of findKeys) if (!bad.has(field)) attributes.delete(ownPath(key))
  const accuracy = decimal(attributes.get(ownPath('accuracy_m')) ?? '')
  if (!Number.isNaN(accuracy)) attributes.delete(ownPath('accuracy_m'))
  const unnamed = attributes.delete(ownPath('unnamed'))
  return { find, accuracyM: Number.isNaN(accuracy) ? null : accuracy, unnamed }
}
