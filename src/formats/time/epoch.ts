import { isoSeconds } from './iso-time.ts'

/**
 * Seconds since 1970-01-01 UTC of an ISO time, or of a count since then as software writes it: ten figures are seconds,
 * thirteen milliseconds. NaN for all else.
 */
export function timeSeconds(text: string): number {
  const tidy = text.trim()
  if (/^\d{10}(\.\d+)?$/.test(tidy)) return Number(tidy)
  if (/^\d{13}$/.test(tidy)) return Number(tidy) / 1000
  return isoSeconds(tidy)
}
