/** Characters that XML 1.0 forbids even as references (production 2, Char), with lone surrogates. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const forbidden = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]|\p{Surrogate}/gu

const references: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  '\t': '&#9;',
  '\n': '&#10;',
  '\r': '&#13;',
}

/** Text fit to stand in an element; what XML forbids is left out, a carriage return is kept as a reference. */
export function xmlText(text: string): string {
  return text.replace(forbidden, '').replace(/[&<>\r]/g, (character) => references[character]!)
}

/** Text fit to stand in an attribute in double quotes; line breaks and tabs survive as references. */
export function escapeXml(text: string): string {
  return text.replace(forbidden, '').replace(/[&<>"\t\n\r]/g, (character) => references[character]!)
}
