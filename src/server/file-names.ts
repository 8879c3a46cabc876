/** The last part of a path or name, without what cannot be seen (control signs, signs that turn the direction of text). */
export function lastPart(name: string): string {
  const last = name.split(/[\\/]/).at(-1) ?? ''
  return last.replace(/[\p{Cc}\p{Cs}\p{Bidi_Control}]/gu, '').trim()
}

/** A name that every system's file names may hold, of at most 200 signs; 'lynchet' if nothing is left. */
export function safeFileName(name: string): string {
  const clean = lastPart(name).replace(/["*:<>?|]/g, '_')
  const short = [...clean].slice(0, 200).join('')
  return short.replace(/^[\s.]+|[\s.]+$/g, '') || 'lynchet'
}

const percent = (sign: string): string => `%${sign.charCodeAt(0).toString(16).toUpperCase()}`

/** Content-Disposition for a file to keep: RFC 6266, with the name in UTF-8 by RFC 8187 beside a plain one. */
export function attachment(fileName: string): string {
  const name = safeFileName(fileName)
  const plain = name.replace(/[^\x20-\x7e]|%/gu, '_')
  const extended = encodeURIComponent(name).replace(/['()*]/g, percent)
  return `attachment; filename="${plain}"; filename*=UTF-8''${extended}`
}
