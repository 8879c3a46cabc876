import { ActionIcon, Button } from '@mantine/core'
import {
  IconArrowBackUp,
  IconChevronDown,
  IconDownload,
  IconFilePlus,
  IconKeyboard,
} from '@tabler/icons-react'
import type { ReactNode } from 'react'
import type { SurveyView } from '#contract'
import { chooseFiles } from '../files/choose-files.ts'
import { openDialog } from '../state/desk-state.ts'
import { useWide } from '../state/wide.ts'
import { undoLast } from '../survey/undo.ts'
import { LookMenu } from './look-menu.tsx'
import { PlaceSearch } from './place-search.tsx'
import classes from './top-bar.module.css'

interface BarButtonProps {
  readonly label: string
  readonly hint?: string
  readonly icon: ReactNode
  readonly disabled?: boolean
  readonly run: () => void
}

/** A button with its word where there is room, else its icon alone with the word as its name. */
function BarButton({ label, hint, icon, disabled = false, run }: BarButtonProps) {
  const wide = useWide()
  return wide ? (
    <Button title={hint} variant="subtle" px="xs" leftSection={icon} disabled={disabled} onClick={run}>
      {label}
    </Button>
  ) : (
    <ActionIcon aria-label={label} title={hint ?? label} disabled={disabled} onClick={run} size={40}>
      {icon}
    </ActionIcon>
  )
}

/** Which survey this is, and what can be done with all of it. */
export function TopBar({ survey }: { readonly survey: SurveyView | null }) {
  const undo = survey?.undo ?? null
  return (
    <header className={classes.bar}>
      <button
        type="button"
        className={classes.survey}
        aria-haspopup="dialog"
        onClick={() => openDialog.set('surveys')}
        data-testid="survey-title"
      >
        {survey ? (
          <>
            <span className={classes.code}>{survey.code}</span>
            <span className={classes.title}>{survey.title}</span>
            {survey.demo ? <span className={classes.demo}>Invented, for trying out</span> : null}
            <IconChevronDown className={classes.chevron ?? ''} size={16} aria-hidden="true" />
          </>
        ) : null}
        <span className="only-read">Other surveys</span>
      </button>
      <span className={classes.space} />
      <PlaceSearch survey={survey} />
      <BarButton label="Add files" icon={<IconFilePlus size={20} aria-hidden="true" />} run={chooseFiles} />
      <BarButton
        label="Export"
        icon={<IconDownload size={20} aria-hidden="true" />}
        run={() => openDialog.set('export')}
      />
      <BarButton
        label="Undo"
        hint={undo === null ? 'Nothing to undo' : `Take back: ${undo}`}
        icon={<IconArrowBackUp size={20} aria-hidden="true" />}
        disabled={undo === null}
        run={() => void undoLast()}
      />
      <LookMenu />
      <span className={classes.wide}>
        <ActionIcon aria-label="Keys" title="Keys" size={40} onClick={() => openDialog.set('keys')}>
          <IconKeyboard size={20} aria-hidden="true" />
        </ActionIcon>
      </span>
    </header>
  )
}
