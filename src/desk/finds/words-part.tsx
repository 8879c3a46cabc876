import { Button } from '@mantine/core'
import { type FormEvent, useId, useMemo, useRef, useState } from 'react'
import type { FindRow, ObjectList, ObjectListReply } from '#contract'
import { type CodedWord, plainSpelling, type UsedWord } from '#core/finds'
import { countText, EmptyState, Notice, Section, wholeNumber } from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { tell } from '../state/notices.ts'
import { undoLast } from '../survey/undo.ts'
import { ComboBox } from './combo-box.tsx'
import { setFilter } from './filter-state.ts'
import { noFilter } from './find-filters.ts'
import { changed } from './finds-data.ts'
import { findsView } from './finds-state.ts'
import joins from './joins-review.module.css'
import { usedObjects, useObjectList, useObjectWords, wordChoices, wordOfChoice } from './object-words.ts'
import record from './record.module.css'
import classes from './words-part.module.css'

const mostShown = 200
const undo = { label: 'Undo', run: () => void undoLast() }

/** The words for objects: those in use, which can be made one, and the survey's own list. */
export function WordsPart({ rows }: { readonly rows: readonly FindRow[] }) {
  return (
    <div className={joins.scroll} data-testid="words">
      <UsedWords rows={rows} />
      <OwnList list={useObjectList()} />
    </div>
  )
}

function UsedWords({ rows }: { readonly rows: readonly FindRow[] }) {
  const id = useId()
  const used = usedObjects(rows)
  const [search, setSearch] = useState('')
  const [picked, setPicked] = useState<ReadonlySet<string>>(new Set())
  const wanted = plainSpelling(search)
  const fitting = wanted === '' ? used : used.filter(({ text }) => plainSpelling(text).includes(wanted))
  const chosen = used.filter(({ text }) => picked.has(text))
  if (used.length === 0) {
    return (
      <EmptyState title="No word yet">
        What you write as Object becomes a word here, with the number of finds that have it.
      </EmptyState>
    )
  }
  const toggle = (text: string): void =>
    setPicked((now) => {
      const next = new Set(now)
      if (!next.delete(text)) next.add(text)
      return next
    })
  return (
    <Section title="Words for objects" aside={wholeNumber(used.length)}>
      <div className={record.field}>
        <label htmlFor={`${id}-search`}>Search the words</label>
        <input
          id={`${id}-search`}
          className={record.input}
          value={search}
          autoComplete="off"
          onChange={(event) => setSearch(event.currentTarget.value)}
        />
      </div>
      <ul className={classes.used} aria-label="Words in use">
        {fitting.slice(0, mostShown).map((word) => (
          <UsedItem
            key={word.text}
            word={word}
            picked={picked.has(word.text)}
            onPick={() => toggle(word.text)}
          />
        ))}
      </ul>
      {fitting.length > mostShown ? (
        <p className={record.soft}>and {wholeNumber(fitting.length - mostShown)} more: search to find them</p>
      ) : null}
      {chosen.length > 0 ? (
        <RenameForm
          key={chosen.map(({ text }) => text).join('\n')}
          chosen={chosen}
          rows={rows}
          onDone={() => setPicked(new Set())}
        />
      ) : (
        <p className={record.soft}>
          Pick a word to write it otherwise in all its finds, or several to make them one.
        </p>
      )}
    </Section>
  )
}

interface UsedItemProps {
  readonly word: UsedWord
  readonly picked: boolean
  readonly onPick: () => void
}

function UsedItem({ word: { text, count, spellings }, picked, onPick }: UsedItemProps) {
  const show = (): void => {
    setFilter('object', { ...noFilter, of: spellings.map((one) => one.text) })
    findsView.set('catalogue')
  }
  const others = spellings.slice(1).map((one) => `“${one.text}” ${one.count}`)
  return (
    <li className={classes.item}>
      <label className={classes.word}>
        <input type="checkbox" checked={picked} onChange={onPick} />
        <span>
          {text}
          {others.length > 0 ? <span className={record.soft}> also written {others.join(', ')}</span> : null}
        </span>
      </label>
      <Button
        size="compact-sm"
        variant="subtle"
        aria-label={`Show the ${countText(count, 'find')} with ${text}`}
        onClick={show}
      >
        {wholeNumber(count)}
      </Button>
    </li>
  )
}

interface RenameFormProps {
  readonly chosen: readonly UsedWord[]
  readonly rows: readonly FindRow[]
  readonly onDone: () => void
}

/** One word in place of those that are picked, in all their finds: one step of Undo. */
function RenameForm({ chosen, rows, onDone }: RenameFormProps) {
  const id = useId()
  const words = useObjectWords()
  const [text, setText] = useState(chosen[0]!.text)
  const [term, setTerm] = useState<CodedWord | null>(null)
  const ids = useMemo(() => {
    const spelled = new Set(chosen.flatMap(({ spellings }) => spellings.map((one) => one.text)))
    return rows.filter(({ object }) => spelled.has(object)).map((row) => row.id)
  }, [chosen, rows])
  const word = text.trim()
  const [only] = chosen
  const same = chosen.length === 1 && only!.spellings.length === 1 && only!.text === word && term === null
  const rename = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    const objectType = term?.text === word ? term : { text: word, term: null }
    if (!(await changed(() => findsApi.changeMany({ ids, record: { objectType } })))) return
    tell('good', `${countText(ids.length, 'find')} now ${ids.length === 1 ? 'has' : 'have'} “${word}”.`, undo)
    onDone()
  }
  return (
    <form className={classes.rename} onSubmit={(event) => void rename(event)} data-testid="rename">
      <div className={record.field}>
        <label htmlFor={id}>
          {chosen.length === 1 ? `“${only!.text}” becomes` : `${chosen.length} words become`}
        </label>
        <ComboBox
          id={id}
          value={text}
          onType={setText}
          choices={wordChoices(text, words)}
          onPick={(choice) => {
            setText(choice.name)
            setTerm(wordOfChoice(choice))
          }}
          onSettle={() => {}}
        />
      </div>
      <div className={record.buttons}>
        <Button type="submit" disabled={word === '' || word.length > 300 || same}>
          Change {countText(ids.length, 'find')}
        </Button>
        <Button variant="default" onClick={onDone}>
          Pick none
        </Button>
      </div>
    </form>
  )
}

/** A list of the user's own, with codes: its terms are offered as one types, and kept apart from free text. */
function OwnList({ list }: { readonly list: ObjectList | null }) {
  const chooser = useRef<HTMLInputElement>(null)
  const [told, setTold] = useState<ObjectListReply['faults']>([])
  const load = async (file: File): Promise<void> => {
    setTold([])
    await changed(async () => {
      const { terms, faults } = await findsApi.takeObjectList(file)
      setTold(faults)
      tell('good', `${countText(terms, 'term')} from ${file.name}.`, undo)
    })
  }
  return (
    <Section title="Your own list" aside={list ? countText(list.terms.length, 'term') : undefined}>
      <div className={record.card}>
        <p className={record.soft}>
          {list
            ? `From ${list.file ?? 'a file'}. Its terms are offered as you write an object, and a find keeps the code of the one you choose.`
            : 'No coded list of objects comes with Lynchet. Load one of yours: a CSV or workbook with a column “term” and, where there are such, “code”, “broader” and “other names”.'}
        </p>
        <div className={record.buttons}>
          <Button variant="default" onClick={() => chooser.current?.click()}>
            {list ? 'Load another list' : 'Load a list'}
          </Button>
          {list ? (
            <Button
              variant="default"
              color="clay"
              onClick={() =>
                void changed(async () => {
                  await findsApi.dropObjectList()
                  tell('good', 'The list was taken away; finds keep their words and codes.', undo)
                })
              }
            >
              Take the list away
            </Button>
          ) : null}
          <input
            ref={chooser}
            type="file"
            accept=".csv,.tsv,.txt,.xlsx"
            hidden
            aria-label="List of words"
            data-testid="words-input"
            onChange={({ currentTarget }) => {
              const [file] = currentTarget.files ?? []
              currentTarget.value = ''
              if (file) void load(file)
            }}
          />
        </div>
        {told.length > 0 ? (
          <Notice tone="warn">
            <ul className={record.care}>
              {told.slice(0, 20).map(({ line, text }) => (
                <li key={`${line} ${text}`}>
                  {line === null ? '' : `Line ${line}: `}
                  {text}
                </li>
              ))}
            </ul>
          </Notice>
        ) : null}
      </div>
    </Section>
  )
}
