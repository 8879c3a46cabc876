/** A code proposed for a title: the first letters of its words, capital, two to eight of them. Empty where there are too few. */
export function codeFrom(title: string): string {
  const words = title
    .normalize('NFD')
    .toUpperCase()
    .split(/[^A-Z0-9]+/)
    .filter((word) => word !== '')
  const initials = words.map((word) => word[0]).join('')
  const short = initials.length >= 3 ? initials : words.join('').slice(0, 3)
  const code = short.replace(/^[0-9]+/, '').slice(0, 8)
  return code.length >= 2 ? code : ''
}

/** The sentence if this is no survey code, else null. The same rule as the server's. */
export function codeFault(code: string): string | null {
  return /^[A-Z][A-Z0-9]{1,7}$/.test(code) ? null : 'Two to eight capital letters or digits, a letter first.'
}
