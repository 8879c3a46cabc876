/**
 * Characters of the bytes 128 to 255 in the two code pages of DOS that Western tables still come in and that TextDecoder does
 * not know. Source: the mapping tables CP437.TXT and CP850.TXT of the Unicode Consortium, as in Python 3.11's codecs.
 */
const codePage437 =
  'ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜ¢£¥₧ƒ' +
  'áíóúñÑªº¿⌐¬½¼¡«»░▒▓│┤╡╢╖╕╣║╗╝╜╛┐' +
  '└┴┬├─┼╞╟╚╔╩╦╠═╬╧╨╤╥╙╘╒╓╫╪┘┌█▄▌▐▀' +
  'αßΓπΣσµτΦΘΩδ∞φε∩≡±≥≤⌠⌡÷≈°∙·√ⁿ²■\u00a0'

const codePage850 =
  'ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜø£Ø×ƒ' +
  'áíóúñÑªº¿®¬½¼¡«»░▒▓│┤ÁÂÀ©╣║╗╝¢¥┐' +
  '└┴┬├─┼ãÃ╚╔╩╦╠═╬¤ðÐÊËÈıÍÎÏ┘┌█▄¦Ì▀' +
  'ÓßÔÒõÕµþÞÚÛÙýÝ¯´\u00ad±‗¾¶§÷¸°¨·¹³²■\u00a0'

const codePages = { cp437: codePage437, cp850: codePage850 } as const

export type OemPage = keyof typeof codePages

/** Text of bytes in such a code page. */
export function oemText(page: OemPage, bytes: Uint8Array): string {
  let text = ''
  for (const byte of bytes) text += byte < 128 ? String.fromCharCode(byte) : codePages[page][byte - 128]
  return text
}
