import type { ReactNode } from 'react'
import classes from './legend.module.css'

/** A symbol and its name. */
export function LegendEntry({
  symbol,
  children,
}: {
  readonly symbol: ReactNode
  readonly children: ReactNode
}) {
  return (
    <li className={classes.entry}>
      <span className={classes.symbol}>{symbol}</span>
      <span>{children}</span>
    </li>
  )
}

/** Symbols and their names, one under the other. */
export function Legend({ children }: { readonly children: ReactNode }) {
  return <ul className={classes.legend}>{children}</ul>
}

interface RampLegendProps {
  readonly title: string
  /** Colour and the word under it, from least to most. */
  readonly steps: readonly { readonly colour: string; readonly text: string }[]
}

/** The steps of a colour ramp with what each stands for. */
export function RampLegend({ title, steps }: RampLegendProps) {
  return (
    <div>
      <p className={classes.rampTitle}>{title}</p>
      <div className={classes.ramp}>
        {steps.map((step) => (
          <div key={step.text} className={classes.step}>
            <div className={classes.colour} style={{ background: step.colour }} />
            {step.text}
          </div>
        ))}
      </div>
    </div>
  )
}
