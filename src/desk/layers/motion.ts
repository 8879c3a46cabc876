/** True where the system asks for as little motion as can be. */
export function calmMotion(): boolean {
  return matchMedia('(prefers-reduced-motion: reduce)').matches
}
