import { type ColourRole, colourRoles } from '#ui'

/** The colours of the look now shown, by role, as CSS colour text. */
export type PlanColours = Readonly<Record<ColourRole, string>>

/** Reads them from the page: palette.css is the only place that says them. */
export function planColours(): PlanColours {
  const style = getComputedStyle(document.documentElement)
  return Object.fromEntries(
    colourRoles.map((role) => [role, style.getPropertyValue(`--${role}`).trim()]),
  ) as PlanColours
}

/** `#rrggbb` with an opacity, 0 to 1. */
export function faded(colour: string, opacity: number): string {
  const share = Math.round(opacity * 255)
  return `${colour}${share.toString(16).padStart(2, '0')}`
}
