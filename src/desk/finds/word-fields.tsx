import { IconX } from '@tabler/icons-react'
import { useEffect, useId, useState } from 'react'
import { type CodedWord, searchTerms, type Vocabulary } from '#core/finds'
import { type Choice, ComboBox } from './combo-box.tsx'
import classes from './record.module.css'

const mostOffers = 8

function offers(vocabulary: Vocabulary | null, text: string): Choice[] {
  if (vocabulary === null) return []
  return searchTerms(vocabulary, text, mostOffers).map(({ term, by }) => ({
    key: term.key,
    name: term.name,
    ...(by === term.name ? {} : { aside: by }),
  }))
}

interface WordFieldProps {
  readonly label: string
  readonly word: CodedWord | null
  readonly vocabulary: Vocabulary | null
  /** Words to offer besides, with no term: those the survey uses already. */
  readonly also?: readonly string[]
  readonly onChange: (word: CodedWord | null) => void
}

/** One word, free or of a vocabulary; a term is kept only for a word that was chosen from the list. */
export function WordField({ label, word, vocabulary, also = [], onChange }: WordFieldProps) {
  const id = useId()
  const [text, setText] = useState(word?.text ?? '')
  useEffect(() => setText(word?.text ?? ''), [word])
  const typed = text.trim().toLowerCase()
  const coded = offers(vocabulary, text)
  const plain = typed === '' ? [] : also.filter((one) => one.toLowerCase().includes(typed) && one !== text)
  const choices = [
    ...coded,
    ...plain.slice(0, mostOffers - coded.length).map((name) => ({ key: `=${name}`, name })),
  ]
  const settle = (next: string): void => {
    const value = next.trim()
    if (value === (word?.text ?? '')) return
    onChange(value === '' ? null : { text: value, term: null })
  }
  return (
    <div className={classes.field}>
      <label htmlFor={id}>{label}</label>
      <ComboBox
        id={id}
        value={text}
        onType={setText}
        choices={choices}
        describedBy={`${id}-term`}
        onPick={({ key, name }) => {
          setText(name)
          onChange({ text: name, term: key.startsWith('=') ? null : key })
        }}
        onSettle={settle}
      />
      <p id={`${id}-term`} className={classes.hint}>
        {word?.term ? `in the list as ${vocabulary?.byKey.get(word.term)?.name ?? word.term}` : ''}
      </p>
    </div>
  )
}

interface WordsFieldProps {
  readonly label: string
  readonly words: readonly CodedWord[]
  readonly vocabulary: Vocabulary | null
  readonly onChange: (words: readonly CodedWord[]) => void
}

/** Several words, the first being most of it. */
export function WordsField({ label, words, vocabulary, onChange }: WordsFieldProps) {
  const id = useId()
  const [text, setText] = useState('')
  const add = (word: CodedWord): void => {
    setText('')
    if (word.text !== '' && !words.some((one) => one.text === word.text)) onChange([...words, word])
  }
  return (
    <div className={classes.field}>
      <label htmlFor={id}>{label}</label>
      {words.length > 0 ? (
        <ul className={classes.words}>
          {words.map((word) => (
            <li key={word.text} className={classes.word} data-coded={word.term !== null || undefined}>
              <span title={word.term ? 'a term of the list' : 'as written'}>{word.text}</span>
              <button
                type="button"
                aria-label={`Take ${word.text} away`}
                onClick={() => onChange(words.filter((one) => one !== word))}
              >
                <IconX size={14} aria-hidden="true" />
              </button>
            </li>
          ))}
        </ul>
      ) : null}
      <ComboBox
        id={id}
        value={text}
        onType={setText}
        choices={offers(vocabulary, text)}
        placeholder={words.length === 0 ? '' : 'One more'}
        onPick={({ key, name }) => add({ text: name, term: key })}
        onSettle={(typed) => add({ text: typed.trim(), term: null })}
      />
    </div>
  )
}
