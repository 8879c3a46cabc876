import type { Mark } from '#contract'
import { lengthText, Notice, Section } from '#ui'
import type { SeenLayer } from '../layers/layer-looks.ts'
import { viewWords } from '../layers/view-words.ts'
import { chanceText, outlineLength, pairText, seenText, sizeText, toneText } from './mark-words.ts'
import classes from './marks.module.css'

const narrow = '\u202f'

/** On which pictures it was seen, and in which view. */
function sightingsText(mark: Mark): string | null {
  const first = mark.layerName === null ? [] : [{ layerName: mark.layerName, view: mark.view }]
  const all = [...first, ...mark.seenAgain]
  if (all.length === 0) return null
  return all
    .map(({ layerName, view }) => (view ? `${layerName} (${viewWords[view.view].name})` : layerName))
    .join('; ')
}

const sizeNames = { ring: 'Diameter', pit: 'Diameter', line: 'Length', enclosure: 'Area' } as const

function factsOf(mark: Mark, terrain: boolean): (readonly [string, string | null])[] {
  const { kind, ditchWidthM, outline } = mark
  return [
    [sizeNames[kind], sizeText(mark)],
    ['Way round', kind === 'enclosure' ? lengthText(outlineLength(outline)) : null],
    [
      kind === 'line' ? 'Width' : 'Ditch',
      ditchWidthM === null ? null : `about ${lengthText(ditchWidthM)}${kind === 'line' ? '' : ' wide'}`,
    ],
    ['Beside it', pairText(mark.pairSpacingM)],
    ['Tone', mark.tone === null ? null : toneText(mark.tone, terrain)],
    ['Seen', seenText(mark)],
    ['Shape', mark.ellipticity === null ? null : shapeText(mark.ellipticity)],
    ['Contrast', mark.contrast === null ? null : `${mark.contrast.toFixed(1)} times the noise about it`],
    ['On', sightingsText(mark)],
    ['Place', mark.gridRef],
    [
      'Made',
      mark.madeBy === 'hand' ? 'by hand' : mark.edited ? 'by a search, changed by hand' : 'by a search',
    ],
  ]
}

function shapeText(ellipticity: number): string {
  if (ellipticity >= 0.97) return 'round'
  return `shorter across is ${Math.round(ellipticity * 100)}${narrow}% of longer`
}

/** What was measured of a mark, and how much of it chance would give. */
export function MarkFacts({ mark, layers }: { readonly mark: Mark; readonly layers: readonly SeenLayer[] }) {
  const terrain = layers.find(({ layer }) => layer.id === mark.layerId)?.layer.kind === 'terrain'
  const chance = chanceText(mark.falseAlarmsPerKm2)
  return (
    <Section title="What was measured">
      <div className={classes.form}>
        {chance ? (
          <div data-testid="chance">
            <Notice tone="plain">{chance}</Notice>
          </div>
        ) : null}
        <dl className={classes.measured}>
          {factsOf(mark, terrain).flatMap(([name, value]) =>
            value === null
              ? []
              : [
                  <div key={name}>
                    <dt>{name}</dt>
                    <dd>{value}</dd>
                  </div>,
                ],
          )}
        </dl>
      </div>
    </Section>
  )
}
