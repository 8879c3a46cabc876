import { createHash } from 'node:crypto'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { parse } from 'csv-parse/sync'

/**
 * Makes vocabularies/object-materials.json and vocabularies/periods.json from the files as published:
 * `node data/make-vocabularies.ts FOLDER-OF-THESAURUS PERIODS.csv`. A second run gives the same bytes. See vocabularies/SOURCE.md.
 */
const [thesaurus, periodFile] = process.argv.slice(2)
if (thesaurus === undefined || periodFile === undefined) {
  throw new RangeError('usage: node data/make-vocabularies.ts FOLDER-OF-THESAURUS PERIODS.csv')
}

type Row = Readonly<Record<string, string>>
const rowsOf = (file: string): Row[] => parse(readFileSync(file), { bom: true, columns: true })
const sha256 = (file: string): string => createHash('sha256').update(readFileSync(file)).digest('hex')
const inFolder = (name: string): string => join(thesaurus, `${name}.csv`)
const out = (name: string, value: object): void => {
  const path = new URL(`vocabularies/${name}.json`, import.meta.url)
  writeFileSync(path, `${JSON.stringify(value, null, 1)}\n`)
}

/** The source writes some names in capitals throughout: shown as words of a sentence, with the usual capitals of names. */
const properNames = new Set(['HERTFORDSHIRE', 'TOTTERNHOE'])
const capital = (word: string): string => word.slice(0, 1) + word.slice(1).toLowerCase()
const materialName = (name: string): string =>
  name === name.toUpperCase()
    ? name
        .split(' ')
        .map((word, i) => (i === 0 || properNames.has(word) ? capital(word) : word.toLowerCase()))
        .join(' ')
    : capital(name)
const periodName = (name: string): string =>
  name === name.toUpperCase() ? name.split(' ').map(capital).join(' ') : name

const version = rowsOf(inFolder('ThesaurusVersion'))[0]!
const terms = rowsOf(inFolder('ThesaurusTerms'))
const uses = rowsOf(inFolder('ThesaurusTermUses'))
const keyOfName = new Map(terms.map((term) => [term.TERM!, `fish:${term.THE_TE_UID}`]))
const keyOfUse = new Map(uses.map((use) => [use.TH_T_U_UID!, keyOfName.get(use.TERM!)!]))
const rowOfName = new Map(terms.map((term) => [term.TERM!, term]))
const nameOfTerm = new Map(terms.map((term) => [term.THE_TE_UID!, term.TERM!]))
const preferences = rowsOf(inFolder('ThesaurusTermPreferences'))
const relations = rowsOf(inFolder('ThesaurusTermRelations'))

const materials = uses.map((use) => {
  const term = rowOfName.get(use.TERM!)!
  const others = preferences
    .filter((row) => row.THE_TE_UID_2 === term.THE_TE_UID)
    .map((row) => materialName(nameOfTerm.get(row.THE_TE_UID_1!)!))
  const related = relations
    .filter((row) => row.TH_T_U_UID_1 === use.TH_T_U_UID)
    .map((row) => keyOfUse.get(row.TH_T_U_UID_2!)!)
  return {
    key: keyOfName.get(use.TERM!)!,
    name: materialName(use.TERM!),
    otherNames: others,
    broader: use.BROAD_TERM_U_UID === '' ? null : keyOfUse.get(use.BROAD_TERM_U_UID!)!,
    related,
    scope: term.SCOPE_NOTE!.trim().replace(/\s+/g, ' '),
    /** The source keeps such a term as a heading, not for use on objects. */
    heading: term.INDEX_TERM !== 'Y',
  }
})
out('object-materials', {
  source: `FISH Archaeological Objects: object materials thesaurus, version ${version.VersionNumber}, ${version.ReleaseDate}`,
  notice: 'Contains public sector information licensed under the Open Government Licence v3.0.',
  sha256: { terms: sha256(inFolder('ThesaurusTerms')), uses: sha256(inFolder('ThesaurusTermUses')) },
  terms: materials,
})

const periods = rowsOf(periodFile)
// Two pairs of the published numbers are given twice; the short name is unique and serves as the key.
const dated = periods.filter((row) => row.MIN_DATE !== '')
const keyOfNumber = new Map(dated.map((row) => [row.PERIOD_UID!, `he:${row.SHORT_NAME}`]))
out('periods', {
  source: 'Historic England period list, 8 April 2026',
  notice: 'Contains public sector information licensed under the Open Government Licence v3.0.',
  sha256: sha256(periodFile),
  undated: periods.filter((row) => row.MIN_DATE === '').map((row) => row.NAME),
  terms: dated.map((row) => ({
      key: `he:${row.SHORT_NAME}`,
      name: periodName(row.NAME!),
      otherNames: row.altLabel!.split(',').flatMap((name) => (/[A-Za-z]/.test(name) ? [name.trim()] : [])),
      broader: keyOfNumber.get(row.PARENT_UID!) ?? null,
      scope: row.DESCRIPTION!.trim().replace(/\s+/g, ' '),
      from: Number(row.MIN_DATE),
      to: Number(row.MAX_DATE),
  })),
})
