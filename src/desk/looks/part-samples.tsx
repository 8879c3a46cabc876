import { Button, TextInput } from '@mantine/core'
import { useState } from 'react'
import {
  type Column,
  DataGrid,
  EmptyState,
  FigureTile,
  FigureTiles,
  FormRow,
  KeyCap,
  Notice,
  NumberRow,
  Panel,
  ProgressBar,
  Section,
  ShareFigure,
} from '#ui'
import classes from './looks-page.module.css'
import { LooksPart } from './looks-part.tsx'

interface SampleRow {
  readonly id: number
}
const rows: readonly SampleRow[] = Array.from({ length: 50_000 }, (_, id) => ({ id }))
const columns: readonly Column<SampleRow>[] = [
  { title: 'Row', cell: ({ id }) => `Row ${id + 1}` },
  { title: 'Square', number: true, cell: ({ id }) => ((id + 1) ** 2).toLocaleString('en-GB') },
]

const sizes = ['tiny', 'small', 'body', 'lead', 'title', 'figure', 'hero'] as const
const gaps = [1, 2, 3, 4, 5, 6] as const

/** The type scale and the steps of spacing. */
export function TypePart() {
  return (
    <LooksPart title="Type and spacing">
      <div className={classes.columns}>
        <div className={classes.stack}>
          {sizes.map((size) => (
            <div key={size} className={classes.sample}>
              <span className={classes.sampleName}>text-{size}</span>
              <span style={{ fontSize: `var(--text-${size})`, lineHeight: 1.2 }}>Ground 0123</span>
            </div>
          ))}
        </div>
        <div className={classes.stack}>
          {gaps.map((gap) => (
            <div key={gap} className={classes.sample}>
              <span className={classes.sampleName}>gap-{gap}</span>
              <span className={classes.spacing} style={{ width: `var(--gap-${gap})` }} />
            </div>
          ))}
        </div>
      </div>
    </LooksPart>
  )
}

/** Panel, figures, table. */
export function PanelPart() {
  const [chosen, setChosen] = useState<number | null>(2)
  return (
    <LooksPart title="Panel, figures and table">
      <div className={classes.columns}>
        <div className={classes.sheet}>
          <Panel title="A panel">
            <Section>
              <ShareFigure label="of something" value="67.9 %" share={0.679} />
              <FigureTiles>
                <FigureTile label="A figure" value="5.94 ha" />
                <FigureTile label="Another" value="1.24" note="at most 7" />
              </FigureTiles>
            </Section>
            <Section title="A section" aside="with a remark">
              <p>What stands in it.</p>
            </Section>
          </Panel>
        </div>
        <DataGrid
          label="A table of 50,000 rows"
          rows={rows}
          columns={columns}
          rowKey={({ id }) => id}
          chosen={chosen}
          onChoose={({ id }) => setChosen(id)}
          style={{ height: '22rem' }}
        />
      </div>
    </LooksPart>
  )
}

/** Buttons, fields, progress, messages. */
export function FormPart() {
  const [width, setWidth] = useState<number | null>(1.5)
  return (
    <LooksPart title="Buttons, fields, progress and messages">
      <div className={classes.columns}>
        <div className={classes.stack}>
          <div className={classes.row}>
            <Button>Main</Button>
            <Button variant="default">Other</Button>
            <Button variant="subtle">Quiet</Button>
            <Button color="clay">Takes away</Button>
            <Button disabled>Not now</Button>
          </div>
          <NumberRow
            label="Swath width"
            hint="Edge to edge of the arc swept"
            unit="m"
            value={width}
            refuse={(value) => (value > 0 && value <= 20 ? null : 'Give a value above 0 up to 20 m.')}
            onChange={setWidth}
          />
          <FormRow label="Name" control={(id) => <TextInput id={id} defaultValue="Long Meadow" />} />
          <p>
            Keys: <KeyCap>Ctrl</KeyCap> <KeyCap>Z</KeyCap>
          </p>
        </div>
        <div className={classes.stack}>
          <ProgressBar label="working out the cover" done={0.42} onCancel={() => setWidth(1.5)} />
          <Notice tone="plain">Something to know.</Notice>
          <Notice tone="good" action={{ label: 'Undo', run: () => setWidth(1.5) }}>
            Something was done.
          </Notice>
          <Notice tone="warn">Something has grown old.</Notice>
          <Notice tone="fault">Something could not be done, and here is what to do.</Notice>
          <EmptyState title="Nothing yet" action={<Button variant="default">Choose files</Button>}>
            What is missing, and what to do about it.
          </EmptyState>
        </div>
      </div>
    </LooksPart>
  )
}
