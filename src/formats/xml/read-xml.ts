import { SaxesParser } from 'saxes'
import { SurveyError } from '#core/faults'
import { type ByteSource, decodedText, type Progress } from '#formats/bytes'
import type { FaultList } from '#formats/fault-list'

/** What a reader of one format is told, in the order of the file. `text` may come in several pieces. */
export interface XmlEvents {
  /** Each attribute, before the `open` of its element; only for readers that cannot wait for the record. */
  attribute?(name: string, value: string): void
  open(name: string, attributes: Readonly<Record<string, string>>): void
  text(text: string): void
  close(): void
}

export interface XmlLimits {
  /** Longest single text, comment or tag, in characters. */
  readonly text: number
}

/** Elements inside elements; GPX and KML need some ten. */
const deepest = 64

/** Ends the reading from within an event; a fault has been noted. */
class Stop extends Error {}

/** Slips that leave no doubt about what follows: reading goes on after them. */
const harmless =
  /undefined entity|outside of root|only one root|duplicate attribute|XML declaration|version number|encoding value|standalone value|value must be quoted|value required|whitespace required|expected (?:one of|the name)|did not expect/

/**
 * Reads XML as a stream (saxes), under bounds: no entity is ever expanded but the five of XML, depth at most 64, no text,
 * comment or tag longer than `limits.text`. Where the file breaks off or is no longer XML, reading ends with one fault
 * that names the line; the events before it stand. Slips that leave the structure whole are noted and passed over.
 *
 * `start` is given a function that tells the line now being read.
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
  const parser = new SaxesParser({ xmlns: false, position: true })
  const reading = new Reading(parser, faults, limits, fileName)
  reading.follow(start(() => parser.line))
  try {
    const onBadBytes = (bad: { sentence: string; linesInto: number }): void =>
      faults.add(parser.line + bad.linesInto, 'bad-value', bad.sentence)
    for (const piece of decodedText(source, onBadBytes, progress)) reading.write(piece)
    reading.end()
  } catch (cause) {
    if (!(cause instanceof Stop)) throw cause
  }
}

class Reading {
  readonly #parser: SaxesParser
  readonly #faults: FaultList
  readonly #limits: XmlLimits
  readonly #fileName: string
  #open: string[] = []
  #quiet = 0
  #anything = false

  constructor(parser: SaxesParser, faults: FaultList, limits: XmlLimits, fileName: string) {
    this.#parser = parser
    this.#faults = faults
    this.#limits = limits
    this.#fileName = fileName
  }

  follow(events: XmlEvents): void {
    const parser = this.#parser
    if (events.attribute) parser.on('attribute', ({ name, value }) => events.attribute?.(name, value))
    parser.on('opentag', (tag) => {
      this.#quiet = 0
      if (this.#open.push(tag.name) > deepest) this.#unsafe(`elements lie more than ${deepest} deep`)
      events.open(tag.name, tag.attributes as Record<string, string>)
    })
    parser.on('closetag', () => {
      this.#quiet = 0
      this.#open.pop()
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

  write(piece: string): void {
    this.#anything = true
    this.#parser.write(piece)
    this.#quiet += piece.length
    if (this.#quiet > this.#limits.text + piece.length) {
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
      this.#faults.add(this.#parser.line, 'bad-value', `Not quite XML (${what}); reading went on.`)
      return
    }
    this.#stop('broken-file', `this is no longer XML (${what})`)
  }

  #unsafe(what: string): never {
    return this.#stop('unsafe-file', what)
  }

  #stop(code: 'broken-file' | 'unsafe-file', what: string): never {
    const { line } = this.#parser
    this.#faults.note(line, code, `Reading stopped at line ${line}: ${what}. What stood before was kept.`)
    throw new Stop(what)
  }

  #refuse(): never {
    throw new SurveyError(
      'unsafe-file',
      `${this.#fileName}, line ${this.#parser.line}: the file declares entities, which can hide or swell content; nothing was read. Save it again without a DOCTYPE.`,
    )
  }
}

/** The part of a name after its prefix. */
export function localName(name: string): string {
  const colon = name.indexOf(':')
  return colon < 0 ? name : name.slice(colon + 1)
}
