import '../ui/look/palette.css'
import '../ui/look/base.css'
import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { LookProvider } from '#ui'
import { watchDevice } from './device/position-watch.ts'
import { FieldPage } from './screen/field-page.tsx'
import { Recorder } from './walk/recorder.ts'
import { openWalkStore } from './walk/walk-store.ts'

/** Only one window may record at a time; this one waits here until no other does. The lock ends with the page. */
function whenAlone(work: () => void): void {
  if (!navigator.locks) {
    work()
    return
  }
  void navigator.locks.request('lynchet-field', () => {
    work()
    return new Promise<never>(() => {})
  })
}

const recorder = new Recorder(openWalkStore, watchDevice, () => Date.now())
createRoot(document.getElementById('root')!).render(
  <StrictMode>
    <LookProvider>
      <FieldPage recorder={recorder} />
    </LookProvider>
  </StrictMode>,
)
whenAlone(() => void recorder.load())

// Keeps the page itself on the device, so that it opens with no network. A newer one is used from the next start on.
if (import.meta.env.PROD && 'serviceWorker' in navigator) {
  void navigator.serviceWorker.register(`${import.meta.env.BASE_URL}sw.js`, {
    scope: import.meta.env.BASE_URL,
  })
}
