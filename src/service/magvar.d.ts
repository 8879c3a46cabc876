declare module 'magvar' {
  /** Declination of WMM2025 in degrees, positive east; degrees in, kilometres above the ellipsoid. */
  export function magvar(lat: number, lon: number, heightKm: number, when: Date): number
}
