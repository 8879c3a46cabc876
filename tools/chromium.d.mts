/** Types of chromium.mjs, which is plain JavaScript so that it runs before anything is installed. */
type Environment = Readonly<Record<string, string | undefined>>

export function usualPlaces(platform?: string, env?: Environment): string[]
export function findChromium(platform?: string, env?: Environment): string | null
export const howToInstall: string
export function ensureChromium(): string | null
