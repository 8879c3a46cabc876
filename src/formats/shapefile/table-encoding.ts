import { type OemPage, oemText } from './oem-characters.ts'

/** How the text of a table is read. */
export interface TableEncoding {
  /** For sentences; null where nothing states it. */
  readonly stated: string | null
  readonly decode: (bytes: Uint8Array) => string
}

/**
 * Code pages by the language driver byte of a table (offset 29), as the dBASE and FoxPro manuals list them and ESRI's software writes
 * them. 0x57 is the writer's own Windows page, Windows-1252 in Western Europe.
 */
const byLanguage: Readonly<Record<number, string>> = {
  1: 'cp437',
  2: 'cp850',
  3: 'windows-1252',
  4: 'macintosh',
  10: 'cp850',
  11: 'cp437',
  13: 'cp437',
  14: 'cp850',
  15: 'cp437',
  16: 'cp850',
  17: 'cp437',
  18: 'cp850',
  19: 'shift_jis',
  20: 'cp850',
  21: 'cp437',
  22: 'cp850',
  24: 'cp437',
  25: 'cp437',
  26: 'cp850',
  27: 'cp437',
  29: 'cp850',
  37: 'cp850',
  38: 'ibm866',
  55: 'cp850',
  77: 'gbk',
  78: 'euc-kr',
  79: 'big5',
  80: 'windows-874',
  87: 'windows-1252',
  88: 'windows-1252',
  89: 'windows-1252',
  101: 'ibm866',
  120: 'big5',
  121: 'euc-kr',
  122: 'gbk',
  123: 'shift_jis',
  124: 'windows-874',
  200: 'windows-1250',
  201: 'windows-1251',
  202: 'windows-1254',
  203: 'windows-1253',
  204: 'windows-1257',
}

/** What a .cpg file says, in the many ways in which programs write it; null for nothing. */
function pageOf(cpg: string): string | null {
  const text = cpg.replaceAll('\0', '').trim().toLowerCase()
  if (text === '') return null
  const language = /^ldid\/(\d+)$/.exec(text)?.[1]
  if (language !== undefined) return byLanguage[Number(language)] ?? text
  if (/^(utf-?8|65001|unicode)$/.test(text)) return 'utf-8'
  const iso = /^(?:iso[-_ ]?)?8859[-_ ]?(\d{1,2})$/.exec(text)?.[1]
  if (iso !== undefined) return `iso-8859-${iso}`
  const number = /^(?:cp|ansi|oem|windows|ibm|ms)?[-_ ]?(\d{3,4})$/.exec(text)?.[1]
  if (number === '437' || number === '850') return `cp${number}`
  if (number === '932') return 'shift_jis'
  if (number === '936') return 'gbk'
  if (number === '949') return 'euc-kr'
  if (number === '950') return 'big5'
  if (number === '866') return 'ibm866'
  return number === undefined ? text : `windows-${number}`
}

const utf8 = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true })
const western = new TextDecoder('windows-1252')

/** UTF-8 where the bytes are that, else Windows-1252: what tables hold that state nothing (common practice). */
function guess(bytes: Uint8Array): string {
  try {
    return utf8.decode(bytes)
  } catch {
    return western.decode(bytes)
  }
}

function decoderOf(page: string): ((bytes: Uint8Array) => string) | null {
  if (page === 'cp437' || page === 'cp850') return (bytes) => oemText(page as OemPage, bytes)
  try {
    const decoder = new TextDecoder(page, { ignoreBOM: true })
    return (bytes) => decoder.decode(bytes)
  } catch {
    return null
  }
}

/**
 * The encoding of a table: what the .cpg file says, else the language byte, else `stated` null, which reads each cell as UTF-8 where
 * it is that and as Windows-1252 where not. `unknown` names a stated page that is not known; the cells are then read the same way.
 */
export function tableEncoding(
  cpg: string | null,
  language: number,
): TableEncoding & { unknown: string | null } {
  const page = (cpg === null ? null : pageOf(cpg)) ?? byLanguage[language] ?? null
  const decode = page === null ? null : decoderOf(page)
  if (decode !== null) return { stated: page, decode, unknown: null }
  const unknown = page ?? (language === 0 ? null : `number ${language}`)
  return { stated: null, decode: guess, unknown: unknown === null ? null : unknown.slice(0, 40) }
}
