import { type FileFault, SurveyError } from '#core/faults'
import { plainSpelling, type Term } from '#core/finds'
import { cellText } from '#formats/csv'
import { FaultList, quoted } from '#formats/fault-list'

/** Rows of a table as any reader of tables gives them. */
interface Row {
  readonly cells: readonly string[]
  /** Counted from 1. */
  readonly line: number
}

export interface WordListContent {
  readonly terms: readonly Term[]
  readonly faults: readonly FileFault[]
}

const mostTerms = 20_000
const longestName = 300
const longestCode = 90

type Column = 'name' | 'code' | 'broader' | 'others'
const headings: Readonly<Record<Column, string>> = {
  name: 'term, name, label, word, object, object type, preflabel, preferred label, preferred term',
  code: 'code, id, uri, key, identifier, notation, concept, term id, term code',
  broader: 'broader, parent, wider, broader term, broader code, broader id, parent id, parent code',
  others: 'other names, others, altlabel, alt label, alternative label, synonyms, also',
}
const columnOf = new Map(
  (Object.entries(headings) as [Column, string][]).flatMap(([column, names]) =>
    names.split(', ').map((name) => [name, column] as const),
  ),
)

type Columns = Readonly<Partial<Record<Column, number>>>

/** Where each column stands; null where the first row is no row of headings. */
function columnsOf({ cells }: Row): Columns | null {
  const columns: Partial<Record<Column, number>> = {}
  for (const [at, cell] of cells.entries()) {
    const column = columnOf.get(plainSpelling(cellText(cell)))
    if (column !== undefined) columns[column] ??= at
  }
  return columns.name === undefined ? null : columns
}

/** A web address names a term for everybody; any other code, or the name itself, only within this list. */
function keyOf(code: string, name: string): string {
  if (/^https?:\/\//i.test(code)) return code
  return `own:${code === '' ? plainSpelling(name).slice(0, longestCode) : code}`
}

interface ReadTerm extends Term {
  readonly line: number
  readonly wider: string
}

function readTerm({ cells, line }: Row, columns: Columns, faults: FaultList): ReadTerm | null {
  const at = (column: Column): string =>
    columns[column] === undefined ? '' : cellText(cells[columns[column]])
  const [name, code] = [at('name'), at('code')]
  if (name === '' && code === '') return null
  const fault = faultOf(name, code)
  if (fault !== null) {
    faults.add(line, 'bad-value', `${fault} The row was left out.`)
    return null
  }
  const otherNames = at('others')
    .split(/\s*[;|]\s*/)
    .filter((other) => other !== '')
  return { key: keyOf(code, name), name, otherNames, broader: null, line, wider: at('broader') }
}

function faultOf(name: string, code: string): string | null {
  if (name === '') return `The code ${quoted(code)} has no term.`
  if (name.length > longestName) return `The term ${quoted(name)} is longer than ${longestName} signs.`
  if (code.length > longestCode) return `The code ${quoted(code)} is longer than ${longestCode} signs.`
  return null
}

/** Each term under its broader one, which may be named by its code or by its name. */
function withBroader(read: readonly ReadTerm[], faults: FaultList): Term[] {
  const known = new Map<string, string>()
  for (const { key, name } of read) known.set(plainSpelling(name), key)
  for (const { key } of read) known.set(key, key).set(key.replace(/^own:/, ''), key)
  return read.map(({ line, wider, ...term }) => {
    if (wider === '') return term
    const broader = known.get(wider) ?? known.get(plainSpelling(wider)) ?? null
    if (broader === null || broader === term.key) {
      faults.add(
        line,
        'bad-value',
        `${quoted(wider)} is not in the list, so ${quoted(term.name)} lies under nothing.`,
      )
      return term
    }
    return { ...term, broader }
  })
}

/**
 * A list of words as a table: a column with the terms, and, where there are such, a code or web address, the broader term and other names (parted by
 * semicolons). A table of one column needs no heading.
 *
 * Faults  SurveyError 'missing-columns' where no column has terms, 'empty-file' for no term at all, 'file-too-large' above 20,000; a row that cannot be
 *         read is left out and listed.
 */
export function readWordList(rows: readonly Row[], fileName: string): WordListContent {
  const filled = rows.filter(({ cells }) => cells.some((cell) => cellText(cell) !== ''))
  const [first] = filled
  if (first === undefined) throw new SurveyError('empty-file', `${fileName} holds no words.`)
  const headed = columnsOf(first)
  if (headed === null && filled.some(({ cells }) => cells.slice(1).some((cell) => cellText(cell) !== ''))) {
    throw new SurveyError(
      'missing-columns',
      `${fileName} has no column headed “term”: name its columns term, code and broader, or give one column of words.`,
    )
  }
  const body = headed === null ? filled : filled.slice(1)
  if (body.length > mostTerms) {
    throw new SurveyError(
      'file-too-large',
      `${fileName} has more than 20,000 words: leave out what you do not use.`,
    )
  }
  const faults = new FaultList()
  const byKey = new Map<string, ReadTerm>()
  for (const row of body) {
    const term = readTerm(row, headed ?? { name: 0 }, faults)
    if (term === null) continue
    if (byKey.has(term.key)) {
      faults.add(
        row.line,
        'bad-value',
        `${quoted(term.name)} stands twice, or its code does. The row was left out.`,
      )
    } else byKey.set(term.key, term)
  }
  if (byKey.size === 0) throw new SurveyError('empty-file', `${fileName} holds no words.`)
  return { terms: withBroader([...byKey.values()], faults), faults: faults.list() }
}
