// Sets the look before anything is painted, so that nothing flashes. The same choice as ui/look/look-choice.ts.
;(() => {
  let kept = null
  try {
    kept = localStorage.getItem('lynchet.look')
  } catch {
    kept = null
  }
  const system = matchMedia('(prefers-contrast: more)').matches
    ? 'high-contrast'
    : matchMedia('(prefers-color-scheme: dark)').matches
      ? 'dark'
      : 'light'
  const look = kept === 'light' || kept === 'dark' || kept === 'high-contrast' ? kept : system
  document.documentElement.dataset.look = look
  document.documentElement.dataset.mantineColorScheme = look === 'dark' ? 'dark' : 'light'
})()
