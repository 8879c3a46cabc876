import type { RecordedTrack } from '#core/record'
import { fixedDecimal, plainDecimal } from '#formats/decimal'
import { isoText } from '#formats/time'
import { escapeXml, xmlText } from '#formats/xml'

/** Elements of a fix after its height and time, in the order of the GPX 1.1 schema, with what the schema lets them hold. */
const after: readonly (readonly [string, RegExp])[] = [
  ['magvar', /^([0-2]?\d?\d|3[0-5]\d)(\.\d+)?$/],
  ['geoidheight', /^-?\d+(\.\d+)?$/],
  ['name', /./s],
  ['cmt', /./s],
  ['desc', /./s],
  ['src', /./s],
  ['sym', /./s],
  ['type', /./s],
  ['fix', /^(none|2d|3d|dgps|pps)$/],
  ['sat', /^\d+$/],
  ['hdop', /^-?\d+(\.\d+)?$/],
  ['vdop', /^-?\d+(\.\d+)?$/],
  ['pdop', /^-?\d+(\.\d+)?$/],
  ['ageofdgpsdata', /^-?\d+(\.\d+)?$/],
  ['dgpsid', /^(\d{1,3}|10[01]\d|102[0-3])$/],
]

/**
 * A function that writes fix `i` of the track as one line. To be called with rising `i`: extras are walked along, each
 * once. Cost of all: one pass over fixes and extras.
 */
export function fixWriter(track: RecordedTrack, name: string): (i: number) => string {
  const { xy, time, elevation, hdop, extras } = track
  const cursors = extras.map(() => 0)
  const values = (i: number): [string, string][] =>
    extras.flatMap(({ name, at, text }, e) => {
      const found: [string, string][] = []
      while (at[cursors[e]!] === i) found.push([name, text[cursors[e]!++]!])
      return found
    })
  return (i) => {
    const ele =
      elevation === null || Number.isNaN(elevation[i]) ? '' : `<ele>${plainDecimal(elevation[i]!)}</ele>`
    const when = time === null || Number.isNaN(time[i]) ? '' : `<time>${isoText(time[i]!)}</time>`
    const dilution = hdop === null || Number.isNaN(hdop[i]) ? null : plainDecimal(hdop[i]!)
    const more = extras.length === 0 ? [] : values(i)
    const rest =
      more.length === 0 ? (dilution === null ? '' : `<hdop>${dilution}</hdop>`) : others(more, dilution)
    const open = `<${name} lat="${fixedDecimal(xy[2 * i + 1]!, 8)}" lon="${fixedDecimal(xy[2 * i]!, 8)}"`
    const inner = ele + when + rest
    return inner === '' ? `${open}/>\n` : `${open}>${inner}</${name}>\n`
  }
}

/** What GPX has an element for in the order of its schema, the rest as extensions. */
function others(values: readonly [string, string][], hdop: string | null): string {
  const left = new Set(values)
  let native = ''
  for (const [name, holds] of after) {
    const value = name === 'hdop' && hdop !== null ? hdop : null
    const found = values.find(([key, text]) => key === name && holds.test(text))
    if (value !== null) native += `<hdop>${value}</hdop>`
    else if (found !== undefined && left.delete(found)) native += `<${name}>${xmlText(found[1])}</${name}>`
  }
  let own = ''
  for (const [key, text] of left)
    own += `<lynchet:value name="${escapeXml(key)}">${xmlText(text)}</lynchet:value>`
  return own === '' ? native : `${native}<extensions>${own}</extensions>`
}
