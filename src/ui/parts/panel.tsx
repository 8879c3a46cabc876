import { type ReactNode, useId } from 'react'
import classes from './panel.module.css'

interface PanelProps {
  readonly title: string
  /** What stands at the right of the title: a button to fold the panel away, say. */
  readonly aside?: ReactNode
  readonly children: ReactNode
}

/** One stage's sheet: a title, then sections that scroll. The panel is a region named by its title. */
export function Panel({ title, aside, children }: PanelProps) {
  const id = useId()
  return (
    <section className={classes.panel} aria-labelledby={id}>
      <header className={classes.head}>
        <h1 className={classes.title} id={id}>
          {title}
        </h1>
        {aside}
      </header>
      <div className={classes.body}>{children}</div>
    </section>
  )
}

interface SectionProps {
  readonly title?: string
  /** A count or a short remark at the right of the heading. */
  readonly aside?: ReactNode
  readonly children: ReactNode
}

/** A part of a panel, ruled off from the one above. */
export function Section({ title, aside, children }: SectionProps) {
  return (
    <div className={classes.section}>
      {title ? (
        <div className={classes.sectionHead}>
          <h2 className={classes.sectionTitle}>{title}</h2>
          {aside === undefined ? null : <span className={classes.aside}>{aside}</span>}
        </div>
      ) : null}
      {children}
    </div>
  )
}
