import { Button } from '@mantine/core'
import { IconPhotoPlus } from '@tabler/icons-react'
import { lazy, Suspense, useRef, useState } from 'react'
import type { FindView, PhotographView } from '#contract'
import { type PhotographRole, photographRoles } from '#core/finds'
import { Section } from '#ui'
import { findsApi, pictureAddress } from '../api/finds-api.ts'
import { changed } from './finds-data.ts'
import { addPhotographs } from './photograph-adding.ts'
import classes from './record.module.css'

const PhotographDialog = lazy(() =>
  import('./photograph-dialog.tsx').then(({ PhotographDialog: component }) => ({ default: component })),
)

/** The photographs of a find: added by dropping them on the page or by choosing files; each with its role. */
export function Photographs({ find }: { readonly find: FindView }) {
  const chooser = useRef<HTMLInputElement>(null)
  const [open, setOpen] = useState<number | null>(null)
  const { photographs, record } = find
  const shown = photographs.find(({ id }) => id === open)
  return (
    <Section title="Photographs" aside={photographs.length > 0 ? String(photographs.length) : undefined}>
      {photographs.length > 0 ? (
        <ul className={classes.pictures}>
          {photographs.map((photograph) => (
            <Picture
              key={photograph.id}
              photograph={photograph}
              number={record.number}
              onOpen={() => setOpen(photograph.id)}
            />
          ))}
        </ul>
      ) : null}
      <div className={classes.buttons}>
        <Button
          variant="default"
          leftSection={<IconPhotoPlus size={16} aria-hidden="true" />}
          onClick={() => chooser.current?.click()}
        >
          Add photographs
        </Button>
        <input
          ref={chooser}
          type="file"
          accept="image/*,.heic"
          multiple
          hidden
          aria-label="Photographs to add"
          data-testid="photograph-input"
          onChange={({ currentTarget }) => {
            const files = [...(currentTarget.files ?? [])]
            currentTarget.value = ''
            const roles = photographs.map(({ role }) => role)
            void addPhotographs({ id: find.id, number: record.number }, files, roles)
          }}
        />
      </div>
      {shown ? (
        <Suspense>
          <PhotographDialog photograph={shown} number={record.number} onClose={() => setOpen(null)} />
        </Suspense>
      ) : null}
    </Section>
  )
}

interface PictureProps {
  readonly photograph: PhotographView
  readonly number: string
  readonly onOpen: () => void
}

function Picture({ photograph, number, onOpen }: PictureProps) {
  const { id, name, role } = photograph
  return (
    <li className={classes.picture}>
      <button type="button" onClick={onOpen} aria-label={`Open ${name}, ${role}`}>
        <img src={pictureAddress(id, 'small')} alt={`${number}, ${role}`} loading="lazy" />
      </button>
      <select
        className={classes.input}
        aria-label={`Role of ${name}`}
        value={role}
        onChange={(event) => {
          const next = event.currentTarget.value as PhotographRole
          void changed(() => findsApi.changePhotograph(id, { role: next }))
        }}
      >
        {photographRoles.map((one) => (
          <option key={one} value={one}>
            {one}
          </option>
        ))}
      </select>
    </li>
  )
}
