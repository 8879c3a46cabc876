import { IconX } from '@tabler/icons-react'
import { useEffect, useId, useRef, useState } from 'react'
import type { CodedWord, UsedWord, Vocabulary } from '#core/finds'
import { ComboBox } from './combo-box.tsx'
import { wordChoices, wordOfChoice } from './object-words.ts'
import classes from './record.module.css'

const none: readonly UsedWord[] = []

interface WordFieldProps {
  readonly label: string
  readonly word: CodedWord | null
  readonly vocabulary: Vocabulary | null
  /** Words to offer besides, with no term: those the survey uses already. */
  readonly also?: readonly UsedWord[]
  readonly onChange: (word: CodedWord | null) => void
}

/** One word, free or of a vocabulary; a term is kept only for a word that was chosen from the list. */
export function WordField({ label, word, vocabulary, also = none, onChange }: WordFieldProps) {
  const id = useId()
  const [text, setText] = useState(word?.text ?? '')
  useEffect(() => setText(word?.text ?? ''), [word])
  const choices =
    text.trim() === '' && vocabulary === null ? [] : wordChoices(text, { list: vocabulary, used: also })
  // What was picked is not yet in the record when the field is left at once.
  const picked = useRef<string | null>(null)
  const settle = (next: string): void => {
    const value = next.trim()
    if (value === (word?.text ?? '') || value === picked.current) return
    picked.current = null
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
        onPick={(choice) => {
          setText(choice.name)
          picked.current = choice.name
          onChange(wordOfChoice(choice))
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
        choices={wordChoices(text, { list: vocabulary, used: none })}
        placeholder={words.length === 0 ? '' : 'One more'}
        onPick={(choice) => add(wordOfChoice(choice))}
        onSettle={(typed) => add({ text: typed.trim(), term: null })}
      />
    </div>
  )
}
