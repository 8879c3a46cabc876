/** Whether the screen is kept on: `off` when not asked for, `unable` where the browser cannot or will not. */
export type AwakeState = 'off' | 'on' | 'unable'

/**
 * Keeps the screen on while wanted, for a browser stops giving positions when it sleeps. The system takes the lock away when
 * the page is hidden; it is asked for anew when the page is seen again. Returns a function that says if it is wanted.
 */
export function keepAwake(changed: (state: AwakeState) => void): (wanted: boolean) => void {
  let wanted = false
  let lock: WakeLockSentinel | null = null

  const ask = async (): Promise<void> => {
    if (!wanted || lock || document.visibilityState !== 'visible') return
    try {
      const given = await navigator.wakeLock.request('screen')
      given.addEventListener('release', () => {
        if (lock === given) lock = null
      })
      lock = given
      if (wanted) changed('on')
      else await given.release()
    } catch {
      changed('unable')
    }
  }

  document.addEventListener('visibilitychange', () => void ask())
  return (want) => {
    wanted = want
    if (want) {
      void ask()
      return
    }
    void lock?.release()
    lock = null
    changed('off')
  }
}
