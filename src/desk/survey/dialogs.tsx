import type { SurveyView } from '#contract'
import { Dialog } from '#ui'
import { LabelsDialog } from '../finds/labels-dialog.tsx'
import { TableDialog } from '../finds/table-dialog.tsx'
import { MatchingDialog } from '../photographs/matching-dialog.tsx'
import { type DialogName, openDialog } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { ExportDialog } from './export-dialog.tsx'
import { KeysDialog } from './keys-dialog.tsx'
import { NewSurveyForm } from './new-survey-form.tsx'
import { SurveysDialog } from './surveys-dialog.tsx'

const titles: Record<DialogName, string> = {
  surveys: 'Surveys',
  'new-survey': 'New survey',
  export: 'Export',
  keys: 'Keys',
  labels: 'Labels',
  'finds-table': 'Table of finds',
  photographs: 'Photographs of finds',
}

/** The one dialog that is open. Fetched when the first is opened. */
export function Dialogs({ survey }: { readonly survey: SurveyView | null }) {
  const name = useStore(openDialog)
  const close = (): void => openDialog.set(null)
  if (!name) return null
  return (
    <Dialog key={name} title={titles[name]} onClose={close} wide={name === 'photographs'}>
      {name === 'surveys' ? <SurveysDialog /> : null}
      {name === 'new-survey' ? <NewSurveyForm /> : null}
      {name === 'export' && survey ? <ExportDialog survey={survey} /> : null}
      {name === 'keys' ? <KeysDialog /> : null}
      {name === 'labels' ? <LabelsDialog /> : null}
      {name === 'finds-table' ? <TableDialog /> : null}
      {name === 'photographs' ? <MatchingDialog /> : null}
    </Dialog>
  )
}
