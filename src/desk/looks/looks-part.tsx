import type { ReactNode } from 'react'
import classes from './looks-page.module.css'

/** One part of the page of looks. */
export function LooksPart({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <section className={classes.part} aria-label={title}>
      <h2 className={classes.partTitle}>{title}</h2>
      {children}
    </section>
  )
}
