import type { Look } from './roles.ts'

/** What the user chose: one look, or that of the system. */
export type LookChoice = 'system' | Look

const key = 'lynchet.look'

/** The choice kept in this browser; `system` where none was made or nothing may be kept. */
export function keptLookChoice(): LookChoice {
  try {
    const kept = localStorage.getItem(key)
    return kept === 'light' || kept === 'dark' || kept === 'high-contrast' ? kept : 'system'
  } catch {
    return 'system'
  }
}

/** Keeps the choice for next time; where the browser forbids it, the choice holds for this page only. */
export function keepLookChoice(choice: LookChoice): void {
  try {
    localStorage.setItem(key, choice)
  } catch {
    // Private windows may refuse; nothing else depends on it.
  }
}

const wantsContrast = '(prefers-contrast: more)'
const wantsDark = '(prefers-color-scheme: dark)'

/** The look to show for a choice, asking the system where it was left to it. public/look.js does the same before first paint. */
export function lookFor(choice: LookChoice): Look {
  if (choice !== 'system') return choice
  if (matchMedia(wantsContrast).matches) return 'high-contrast'
  return matchMedia(wantsDark).matches ? 'dark' : 'light'
}

/** Calls `changed` whenever the system's wish changes; returns a function that stops it. */
export function onSystemLook(changed: () => void): () => void {
  const queries = [matchMedia(wantsContrast), matchMedia(wantsDark)]
  for (const query of queries) query.addEventListener('change', changed)
  return () => {
    for (const query of queries) query.removeEventListener('change', changed)
  }
}
