import { SaxesParser } from 'saxes'
import { SurveyError } from '#core/faults'
import { type BadBytes, type ByteSource, decodedText, type Progress } from '#formats/bytes'
import type { FaultList } from '#formats/fault-list'
import { withAmpersands } from './bare-ampersand.ts'

/** What a reader of one format is told, in the order of the file. `text` may come in several pieces. */
export interface XmlEvents {
  /** Each attribute, before the `open` of its element; only for readers that cannot wait for the record. */
  attribute?(name: string, value: string): void
  open(name: string, attributes: Readonly<Record<string, string>>): void
  text(text: string): void
  close(): void
  /** A way past the parser, for files of millions of like elements. */
  readonly shortCut?: ShortCut | null
}

/**
 * Takes elements of one plain form straight from the text, where a parser would do no more than the same events. Reading
 * stays correct only if what it takes is well-formed and complete.
 */
export interface ShortCut {
  /** Whether it may be tried where the parser now stands. Asked between elements only. */
  ready(): boolean
  /** Takes what it can from `from` on, and returns where it stopped. */
  take(text: string, from: number): number
  /** Line breaks in what the last `take` took. */
  readonly lines: number
  /** What the parser is given text up to, before it is worth asking again. */
  readonly after: string
}

export interface XmlLimits {
  /** Longest single text, comment or tag, in characters. */
  readonly text: number
}

/** Elements inside elements; GPX and KML need some ten. */
const deepest = 64

/** Times that a short cut may fail in one piece of text before the piece is left to the parser. */
const mostMisses = 8

/** Largest file mended, bytes; mending needs its text as a whole. */
const mostMended = 2 ** 27

/** Ends the reading from within an event; a fault has been noted. */
class Stop extends Error {}

/** Slips that leave no doubt about what follows: reading goes on after them. */
const harmless =
  /undefined entity|outside of root|only one root|duplicate attribute|XML declaration|version number|encoding value|standalone value|value must be quoted|value required|whitespace required|expected (?:one of|the name)|did not expect/

/**
 * Reads XML as a stream (saxes), under bounds: no entity is ever expanded but the five of XML, depth at most 64, no text,
 * comment or tag longer than `limits.text`. Where the file breaks off or is no longer XML, reading ends with one fault
 * that names the line; the events before it stand. Slips that leave the structure whole are noted and passed over. Where an
 * `&` that stands alone is to blame, the file is read anew with it mended.
 *
 * `start` is given a function that tells the line now being read; it may be called twice, and the last events count.
 * Faults: SurveyError('unsafe-file') for a DOCTYPE that declares entities. Cost: one pass, memory of one piece.
 */
export function readXml(
  source: ByteSource,
  fileName: string,
  faults: FaultList,
  limits: XmlLimits,
  start: (line: () => number) => XmlEvents,
  progress?: Progress,
): void {
  const read = (pieces: Iterable<string>, reading: Reading): boolean => {
    reading.follow(start(() => reading.line))
    try {
      for (const piece of pieces) reading.write(piece)
      reading.end()
      return true
    } catch (cause) {
      if (!(cause instanceof Stop)) throw cause
      return false
    }
  }
  const first = new Reading(faults, limits, fileName)
  const onBadBytes = (bad: BadBytes): void =>
    faults.add(first.line + bad.linesInto, 'bad-value', bad.sentence)
  if (read(decodedText(source, onBadBytes, progress), first) || !(source instanceof Uint8Array)) return
  const mended =
    source.length > mostMended ? null : withAmpersands([...decodedText(source, () => {})].join(''))
  if (mended === null) return
  faults.clear()
  const text = `An “&” stands alone in the text, where XML has “&amp;”; it was read as it stands.`
  faults.add(mended.line, 'bad-value', text)
  read([mended.text], new Reading(faults, limits, fileName))
}

class Reading {
  readonly #parser = new SaxesParser({ xmlns: false, position: true })
  readonly #faults: FaultList
  readonly #limits: XmlLimits
  readonly #fileName: string
  #open: string[] = []
  #shortCut: ShortCut | null = null
  #quiet = 0
  #anything = false
  /** Characters given to the parser; those up to the end of the last tag; line breaks that it was never given. */
  #given = 0
  #tagEnd = 0
  #passedLines = 0

  constructor(faults: FaultList, limits: XmlLimits, fileName: string) {
    this.#faults = faults
    this.#limits = limits
    this.#fileName = fileName
  }

  /** The line now being read, from 1. */
  get line(): number {
    return this.#parser.line + this.#passedLines
  }

  follow(events: XmlEvents): void {
    const parser = this.#parser
    this.#shortCut = events.shortCut ?? null
    const shortens = this.#shortCut !== null
    if (events.attribute) parser.on('attribute', ({ name, value }) => events.attribute?.(name, value))
    parser.on('opentag', (tag) => {
      this.#quiet = 0
      if (this.#open.push(tag.name) > deepest) this.#unsafe(`elements lie more than ${deepest} deep`)
      if (shortens) this.#tagEnd = parser.position
      events.open(tag.name, tag.attributes as Record<string, string>)
    })
    parser.on('closetag', () => {
      this.#quiet = 0
      this.#open.pop()
      if (shortens) this.#tagEnd = parser.position
      events.close()
    })
    const text = (text: string): void => {
      this.#quiet = 0
      if (text.length > this.#limits.text) this.#unsafe(`a text is over ${this.#limits.text} characters long`)
      events.text(text)
    }
    parser.on('text', text)
    parser.on('cdata', text)
    parser.on('doctype', (doctype) => {
      if (/<!ENTITY/i.test(doctype)) this.#refuse()
    })
    parser.on('error', (error) => this.#fail(error.message))
  }

  /**
   * Reads one piece of the text. Where the parser stands right behind a tag, and the events know a short cut, that is tried
   * first; then the parser gets the text up to where it is worth trying again. Whether the parser stands behind a tag, and
   * not in a comment or the like, is told by its position: the last tag ended with the last character that it was given.
   */
  write(piece: string): void {
    this.#anything = true
    const shortCut = this.#shortCut
    let at = 0
    let misses = 0
    while (at < piece.length) {
      if (shortCut !== null && misses < mostMisses && this.#tagEnd === this.#given && shortCut.ready()) {
        const to = shortCut.take(piece, at)
        misses = to > at ? 0 : misses + 1
        this.#passedLines += shortCut.lines
        at = to
      }
      const next = shortCut === null || misses >= mostMisses ? -1 : piece.indexOf(shortCut.after, at)
      const end = next < 0 ? piece.length : next + shortCut!.after.length
      if (end > at) this.#give(at === 0 && end === piece.length ? piece : piece.slice(at, end))
      at = end
    }
  }

  #give(text: string): void {
    this.#given += text.length
    this.#parser.write(text)
    this.#quiet += text.length
    if (this.#quiet > this.#limits.text + text.length) {
      this.#unsafe(`a text or tag is over ${this.#limits.text} characters long`)
    }
  }

  end(): void {
    const inside = this.#open.at(-1)
    if (inside !== undefined) this.#stop('broken-file', `the file ends inside <${inside.slice(0, 60)}>`)
    if (this.#anything) this.#parser.close()
  }

  #fail(message: string): void {
    const what = message.replace(/^\d+:\d+: /, '').replace(/\.$/, '')
    if (harmless.test(what)) {
      this.#faults.add(this.line, 'bad-value', `Not quite XML (${what}); reading went on.`)
      return
    }
    this.#stop('broken-file', `this is no longer XML (${what})`)
  }

  #unsafe(what: string): never {
    return this.#stop('unsafe-file', what)
  }

  #stop(code: 'broken-file' | 'unsafe-file', what: string): never {
    const { line } = this
    this.#faults.note(line, code, `Reading stopped at line ${line}: ${what}. What stood before was kept.`)
    throw new Stop(what)
  }

  #refuse(): never {
    throw new SurveyError(
      'unsafe-file',
      `${this.#fileName}, line ${this.line}: the file declares entities, which can hide or swell content; nothing was read. Save it again without a DOCTYPE.`,
    )
  }
}

/** The part of a name after its prefix. */
export function localName(name: string): string {
  const colon = name.indexOf(':')
  return colon < 0 ? name : name.slice(colon + 1)
}
