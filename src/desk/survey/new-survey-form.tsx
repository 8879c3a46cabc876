import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import { Notice } from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { openDialog } from '../state/desk-state.ts'
import classes from './dialogs.module.css'
import { codeFault, codeFrom } from './survey-code.ts'

/** Makes a survey and opens it. The code follows the title until it is written by hand. */
export function NewSurveyForm() {
  const [title, setTitle] = useState('')
  const [ownCode, setOwnCode] = useState<string | null>(null)
  const [fault, setFault] = useState<string | null>(null)
  const [codeError, setCodeError] = useState<string | null>(null)
  const code = ownCode ?? codeFrom(title)
  const make = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    const wrong = codeFault(code)
    setCodeError(wrong)
    if (wrong !== null) return
    try {
      await deskApi.newSurvey({ code, title: title.trim() })
      await refreshSurvey()
      openDialog.set(null)
    } catch (cause) {
      setFault(sentenceOf(cause))
    }
  }
  return (
    <form className={classes.stack} onSubmit={(event) => void make(event)} noValidate>
      <TextInput
        label="Title"
        description="The farm or field, as you call it"
        value={title}
        maxLength={200}
        onChange={(event) => setTitle(event.currentTarget.value)}
      />
      <TextInput
        label="Code"
        description="Begins every find number of this survey"
        value={code}
        maxLength={8}
        error={codeError}
        onChange={(event) => setOwnCode(event.currentTarget.value.toUpperCase())}
      />
      {fault === null ? null : <Notice tone="fault">{fault}</Notice>}
      <Button type="submit" disabled={title.trim() === ''}>
        Make the survey
      </Button>
    </form>
  )
}
