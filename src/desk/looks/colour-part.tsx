import { useLayoutEffect, useState } from 'react'
import { colourRoles, contrastRatio, textPairs, useLook } from '#ui'
import { type PlanColours, planColours } from '../map/plan-colours.ts'
import classes from './looks-page.module.css'
import { LooksPart } from './looks-part.tsx'

function useColours(): PlanColours | null {
  const { look } = useLook()
  const [colours, setColours] = useState<PlanColours | null>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: another look means other colours in the style sheet.
  useLayoutEffect(() => setColours(planColours()), [look])
  return colours
}

/** Every colour by role, and every pair of text and ground with its contrast. */
export function ColourPart() {
  const colours = useColours()
  return (
    <>
      <LooksPart title="Colours by role">
        <ul className={classes.colours}>
          {colourRoles.map((role) => (
            <li key={role} className={classes.colour}>
              <span className={classes.chip} style={{ background: `var(--${role})` }} />
              <span>
                {role}
                <br />
                {colours?.[role]}
              </span>
            </li>
          ))}
        </ul>
      </LooksPart>
      <LooksPart title="Text on its ground, and the contrast it has">
        <ul className={classes.colours}>
          {textPairs.map(([text, ground]) => (
            <li
              key={`${text} ${ground}`}
              className={classes.pair}
              style={{ color: `var(--${text})`, background: `var(--${ground})` }}
            >
              {text} on {ground}: {colours ? contrastRatio(colours[text], colours[ground]).toFixed(1) : ''}
            </li>
          ))}
        </ul>
      </LooksPart>
    </>
  )
}
