import type { Fix } from '../walk/walk.ts'

/** Why no position comes. `slow` may pass by itself; the others need a person. */
export type PositionTrouble = 'refused' | 'unavailable' | 'slow' | 'insecure' | 'unsupported'

export interface PositionListener {
  readonly fix: (fix: Fix) => void
  readonly trouble: (trouble: PositionTrouble) => void
}

/** Where positions come from. Returns a function that ends the watching. */
export type PositionSource = (listener: PositionListener) => () => void

const codes: Record<number, PositionTrouble> = { 1: 'refused', 2: 'unavailable', 3: 'slow' }

/** How long the device may take for a position before it is said, milliseconds. Watching goes on. */
const patience = 30_000

/** The device's own positions, as good as it can and never an old one. */
export const watchDevice: PositionSource = ({ fix, trouble }) => {
  if (!isSecureContext) {
    trouble('insecure')
    return () => {}
  }
  if (!('geolocation' in navigator)) {
    trouble('unsupported')
    return () => {}
  }
  const watch = navigator.geolocation.watchPosition(
    ({ coords, timestamp }) =>
      fix({
        time: timestamp,
        lat: coords.latitude,
        lon: coords.longitude,
        accuracyM: coords.accuracy,
        altitude: coords.altitude,
      }),
    ({ code }) => trouble(codes[code] ?? 'unavailable'),
    { enableHighAccuracy: true, maximumAge: 0, timeout: patience },
  )
  return () => navigator.geolocation.clearWatch(watch)
}

/** What to say, and what the person can do about it. */
export const troubleWords: Record<PositionTrouble, string> = {
  refused:
    'This page may not use your position. Allow it in the browser’s settings for this site (on a phone also in the phone’s settings for the browser), then press Start again.',
  unavailable:
    'The device gives no position. Switch location on, go into the open, and wait: recording goes on by itself when a position comes.',
  slow: 'No position has come for half a minute. Recording goes on by itself when one comes; open sky helps.',
  insecure:
    'Browsers give positions only to pages opened over https, or from this same device. Open the field page by its https address.',
  unsupported: 'This browser knows no positions. Use another browser or another device.',
}
