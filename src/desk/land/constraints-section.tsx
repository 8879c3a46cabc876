import { ActionIcon, Button, FileButton, TextInput } from '@mantine/core'
import { IconTrash } from '@tabler/icons-react'
import { type DragEvent, useState } from 'react'
import type { ConstraintSet } from '#contract'
import { countText, Notice, NumberRow, Section } from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey, useList } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { plan } from '../map/map-state.ts'
import { tell, tellFault } from '../state/notices.ts'
import { undoLast } from '../survey/undo.ts'
import classes from './land-panel.module.css'

const refuseBuffer = (value: number): string | null =>
  value >= 0 && value <= 10_000 ? null : 'Give a value from 0 to 10,000 m.'

async function acted(act: () => Promise<unknown>): Promise<void> {
  try {
    await act()
    await refreshSurvey()
  } catch (error) {
    tellFault(error)
  }
}

function SetRow({ set }: { readonly set: ConstraintSet }) {
  const { id, source, kind, bufferM, constraints } = set
  const remove = async (): Promise<void> => {
    await acted(() => deskApi.removeConstraints(id))
    tell('good', `Took the constraints of ${source} out.`, { label: 'Undo', run: () => void undoLast() })
  }
  return (
    <li className={classes.set}>
      <div className={classes.setHead}>
        <span>
          <span className={classes.name}>{source}</span>
          <span className={classes.facts}>
            {kind === '' ? '' : `${kind} · `}
            {countText(constraints.length, 'constraint')}
          </span>
        </span>
        <ActionIcon aria-label={`Delete the constraints of ${source}`} onClick={() => void remove()}>
          <IconTrash size={18} aria-hidden="true" />
        </ActionIcon>
      </div>
      <NumberRow
        label={`Keep clear of ${source} by`}
        unit="m"
        value={bufferM}
        refuse={refuseBuffer}
        onChange={(value) =>
          value !== null && void acted(() => deskApi.changeConstraints(id, { bufferM: value }))
        }
      />
    </li>
  )
}

/** Takes files of constraints: by the button, or dropped on this part of the panel. */
function AddConstraints() {
  const [kind, setKind] = useState('')
  const [bufferM, setBuffer] = useState(20)
  const [fault, setFault] = useState<string | null>(null)
  const [over, setOver] = useState(false)
  const take = async (files: readonly File[]): Promise<void> => {
    setFault(null)
    for (const file of files) {
      try {
        const { added, alreadyThere, faults } = await deskApi.addConstraints(file, kind.trim(), bufferM)
        tell(
          'good',
          alreadyThere
            ? `${file.name} is there already.`
            : `${file.name}: ${countText(added, 'constraint')}.`,
        )
        if (faults[0]) setFault(`${file.name}: ${faults[0].text}`)
      } catch (error) {
        const sentence = sentenceOf(error)
        setFault(sentence.startsWith(file.name) ? sentence : `${file.name}: ${sentence}`)
      }
    }
    await refreshSurvey()
  }
  const drop = (event: DragEvent): void => {
    // By this the page as a whole knows that the files are taken.
    event.preventDefault()
    setOver(false)
    void take([...event.dataTransfer.files])
  }
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: a place to drop files; the button in it does the same by keyboard.
    <div
      className={classes.drop}
      data-over={over || undefined}
      data-testid="constraint-drop"
      onDragOver={(event) => {
        event.preventDefault()
        setOver(true)
      }}
      onDragLeave={() => setOver(false)}
      onDrop={drop}
    >
      <TextInput
        label="What they are"
        placeholder="scheduled monument"
        value={kind}
        maxLength={200}
        onChange={(event) => setKind(event.currentTarget.value)}
      />
      <NumberRow
        label="Keep clear by"
        unit="m"
        value={bufferM}
        refuse={refuseBuffer}
        onChange={(value) => value !== null && setBuffer(value)}
      />
      {fault ? <Notice tone="fault">{fault}</Notice> : null}
      <FileButton
        multiple
        onChange={(files) => void take(files)}
        inputProps={{ 'aria-label': 'Files of constraints' }}
      >
        {(props) => (
          <Button {...props} variant="default">
            Choose files, or drop them here
          </Button>
        )}
      </FileButton>
    </div>
  )
}

/** What is to be left alone, and what of the plan comes too near to it. Nothing is forbidden by it: it is said. */
export function ConstraintsSection({ gridless }: { readonly gridless: boolean }) {
  const sets = useList('constraints')
  const clashes = useList('clashes')
  if (gridless) return null
  return (
    <Section
      title="To be left alone"
      aside={sets.length > 0 ? countText(clashes.length, 'clash', 'clashes') : undefined}
    >
      <div className={classes.fields}>
        {clashes.slice(0, 20).map(({ text, easting, northing }) => (
          <Notice
            key={text}
            tone="warn"
            action={{ label: 'Show', run: () => plan.get()?.lookAt(easting, northing) }}
          >
            {text}
          </Notice>
        ))}
        {clashes.length > 20 ? <p className={classes.hint}>And {clashes.length - 20} more.</p> : null}
        {sets.length > 0 ? (
          <ul className={classes.list} data-testid="constraint-list">
            {sets.map((set) => (
              <SetRow key={set.id} set={set} />
            ))}
          </ul>
        ) : null}
        <AddConstraints />
      </div>
    </Section>
  )
}
