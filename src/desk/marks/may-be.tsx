import type { Mark } from '#contract'
import { type WhatItMayBe, whatALineMayBe, whatAPitMayBe, whatARingMayBe } from '#core/marks'
import { Section } from '#ui'
import classes from './marks.module.css'

function mayBeOf({
  kind,
  diameterM,
  completeness,
  ditchWidthM,
  pairSpacingM,
  mayBe,
}: Mark): WhatItMayBe | null {
  if (kind === 'line' || kind === 'enclosure') return whatALineMayBe(ditchWidthM, pairSpacingM, mayBe)
  if (diameterM === null) return null
  return kind === 'pit' ? whatAPitMayBe(diameterM) : whatARingMayBe(diameterM, completeness)
}

/** What a mark of this size may be, with the ordinary things beside it, and what to ask before believing it. */
export function MayBe({ mark }: { readonly mark: Mark }) {
  const may = mayBeOf(mark)
  if (!may) return null
  const { possible, ordinary, questions, source } = may
  const size = mark.diameterM === null ? 'width' : 'size'
  const isMeasured = mark.diameterM !== null || mark.ditchWidthM !== null
  const list = (title: string, items: readonly string[]) =>
    items.length === 0 ? null : (
      <>
        <h3 className={classes.small}>{title}</h3>
        <ul className={classes.bullets}>
          {items.map((item) => (
            <li key={item}>{item}</li>
          ))}
        </ul>
      </>
    )
  return (
    <Section title="What it may be" aside="possible, not more">
      {mark.mayBe.length > 0 ? list('Ask first', questions) : null}
      {list(
        `Archaeology of that ${size}`,
        possible.map(({ what }) => what),
      )}
      {list(
        `Ordinary or natural things of that ${size}`,
        ordinary.map(({ what }) => what),
      )}
      {possible.length + ordinary.length === 0 && isMeasured ? (
        <p className={classes.hint}>Nothing common has this {size}.</p>
      ) : null}
      {mark.mayBe.length === 0 ? list('Ask first', questions) : null}
      <p className={classes.hint}>{source}</p>
    </Section>
  )
}
