import { type ColourRole, colourRoles } from '#ui'

/** The colours of the look now shown, by role, as `#rrggbb`. */
export type PlanColours = Readonly<Record<ColourRole, string>>

/** `#rgb` written out as `#rrggbb`; a style sheet made small for shipping holds both. Anything else is left as it is. */
export function longHex(colour: string): string {
  return /^#[0-9a-f]{3}$/i.test(colour) ? colour.replace(/[0-9a-f]/gi, (digit) => digit + digit) : colour
}

/** Reads them from the page: palette.css is the only place that says them. */
export function planColours(): PlanColours {
  const style = getComputedStyle(document.documentElement)
  return Object.fromEntries(
    colourRoles.map((role) => [role, longHex(style.getPropertyValue(`--${role}`).trim())]),
  ) as PlanColours
}

/** `#rrggbb` with an opacity, 0 to 1. */
export function faded(colour: string, opacity: number): string {
  const share = Math.round(opacity * 255)
  return `${colour}${share.toString(16).padStart(2, '0')}`
}
