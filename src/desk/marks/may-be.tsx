import { whatItMayBe } from '#core/marks'
import { Section } from '#ui'
import classes from './marks.module.css'

interface MayBeProps {
  readonly diameterM: number
  readonly completeness: number | null
}

/** What a ring of this size may be, with the ordinary things beside it, and what to ask before believing it. */
export function MayBe({ diameterM, completeness }: MayBeProps) {
  const { possible, ordinary, questions, source } = whatItMayBe(diameterM, completeness)
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
      {list(
        'Archaeology of that size',
        possible.map(({ what }) => what),
      )}
      {list(
        'Ordinary or natural things of that size',
        ordinary.map(({ what }) => what),
      )}
      {possible.length + ordinary.length === 0 ? (
        <p className={classes.hint}>Nothing common has this size.</p>
      ) : null}
      {list('Ask first', questions)}
      <p className={classes.hint}>{source}</p>
    </Section>
  )
}
