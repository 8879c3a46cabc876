import { Button } from '@mantine/core'
import { IconPlus } from '@tabler/icons-react'
import { useState } from 'react'
import { momentText, Notice } from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey, useSurveys } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { openDialog } from '../state/desk-state.ts'
import classes from './dialogs.module.css'

/** The surveys in the user's folder: one click opens one. */
export function SurveysDialog() {
  const { data, error } = useSurveys()
  const [fault, setFault] = useState<string | null>(null)
  const open = async (file: string): Promise<void> => {
    setFault(null)
    try {
      await deskApi.openSurvey(file)
      await refreshSurvey()
      openDialog.set(null)
    } catch (cause) {
      setFault(sentenceOf(cause))
    }
  }
  const wrong = fault ?? (error ? sentenceOf(error) : null)
  return (
    <div className={classes.stack}>
      {wrong === null ? null : <Notice tone="fault">{wrong}</Notice>}
      {data ? (
        <ul className={classes.list}>
          {data.surveys.map((survey) => (
            <li key={survey.file}>
              <button
                type="button"
                className={classes.survey}
                aria-current={survey.open ? 'true' : undefined}
                onClick={() => (survey.open ? openDialog.set(null) : void open(survey.file))}
              >
                <span className={classes.code}>{survey.code}</span>
                <span>
                  <span className={classes.title}>{survey.title}</span>
                  <br />
                  <span className={classes.soft}>changed {momentText(survey.changedAt)}</span>
                </span>
                <span className={classes.soft}>{survey.open ? 'open now' : ''}</span>
              </button>
            </li>
          ))}
        </ul>
      ) : null}
      <Button
        leftSection={<IconPlus size={18} aria-hidden="true" />}
        onClick={() => openDialog.set('new-survey')}
      >
        New survey
      </Button>
      {data ? <p className={classes.folder}>Surveys are kept in {data.folder}, one file each.</p> : null}
    </div>
  )
}
