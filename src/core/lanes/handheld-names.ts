/** What a handheld can hold and show of a name. */
export interface NameLimits {
  /** Most characters. */
  readonly length: number
  /** True for letters without accents, figures and simple marks only (printable ASCII). */
  readonly ascii: boolean
}

/** Letters that no decomposition brings to ASCII. */
const plain: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  Æ: 'AE',
  œ: 'oe',
  Œ: 'OE',
  ø: 'o',
  Ø: 'O',
  ł: 'l',
  Ł: 'L',
  đ: 'd',
  Đ: 'D',
  ð: 'd',
  Ð: 'D',
  þ: 'th',
  Þ: 'Th',
  '–': '-',
  '—': '-',
  '’': "'",
  '‘': "'",
  '“': '"',
  '”': '"',
  '…': '...',
}

function inAscii(text: string): string {
  const bare = [...text].map((letter) => plain[letter] ?? letter).join('')
  return bare
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/[^ -~]/g, '?')
}

/**
 * Names cut to what a handheld can hold, each different from all others: where cutting makes two alike, later ones end in a number instead.
 * Characters are whole letters, so that none is cut in two.
 *
 * Faults  RangeError unless the length is a whole number from 1 up, or where so many names cannot differ in it.
 * @example handheldNames(['Überlänge 12', 'Überlänge 13'], { length: 6, ascii: true }) // ['Uberla', 'Uberl2']
 */
export function handheldNames(names: readonly string[], { length, ascii }: NameLimits): string[] {
  if (!Number.isInteger(length) || length < 1)
    throw new RangeError(`a name holds a whole number of characters from 1 up, got ${length}`)
  const taken = new Set<string>()
  const next = new Map<string, number>()
  return names.map((name) => {
    const letters = [...(ascii ? inAscii(name) : name.normalize('NFC')).replace(/[\p{C}\s]+/gu, ' ').trim()]
    const cut = letters.slice(0, length).join('').trim()
    let made = cut === '' ? '1' : cut
    for (let n = next.get(made) ?? 2; taken.has(made); n++) {
      const figures = String(n)
      if (figures.length > length)
        throw new RangeError(`names of ${length} characters cannot tell ${names.length} apart`)
      made =
        letters
          .slice(0, length - figures.length)
          .join('')
          .trim() + figures
      next.set(cut === '' ? '1' : cut, n + 1)
    }
    taken.add(made)
    return made
  })
}
