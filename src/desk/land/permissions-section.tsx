import { ActionIcon, Button } from '@mantine/core'
import { IconTrash } from '@tabler/icons-react'
import type { Permission } from '#contract'
import { countText, Notice, Section } from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey, useList } from '../api/queries.ts'
import { tell, tellFault } from '../state/notices.ts'
import { rememberedFlag } from '../state/remembered.ts'
import { useStore } from '../state/store.ts'
import { undoLast } from '../survey/undo.ts'
import classes from './land-panel.module.css'
import { openPermission, writePermission } from './permission-draft.ts'
import { PermissionForm } from './permission-form.tsx'

/** Shown until it is put away, where leave is written down: before anybody goes. */
const cautionsSeen = rememberedFlag('land-cautions-seen', false)

async function remove({ id, name }: Permission): Promise<void> {
  try {
    await deskApi.removePermission(id)
    tell('good', `Took the permission ${name} out.`, { label: 'Undo', run: () => void undoLast() })
    await refreshSurvey()
  } catch (error) {
    tellFault(error)
  }
}

function PermissionRow({ permission, onOpen }: { permission: Permission; onOpen: () => void }) {
  const { name, state, stateText, startsOn, endsOn, notes } = permission
  return (
    <li className={classes.row}>
      <button type="button" className={classes.open} onClick={onOpen} aria-label={`Change ${name}`}>
        <span className={classes.name}>{name}</span>
        <span className={classes.facts}>
          {state === 'open' ? stateText : `${startsOn ?? '…'} to ${endsOn ?? '…'}`}
        </span>
        {notes[0] ? (
          <span className={classes.facts}>
            {notes[0].notedOn}: {notes[0].note}
          </span>
        ) : null}
      </button>
      <ActionIcon
        aria-label={`Delete the permission ${name}`}
        title="Delete"
        onClick={() => void remove(permission)}
      >
        <IconTrash size={18} aria-hidden="true" />
      </ActionIcon>
    </li>
  )
}

/** Leave to search: who gave it, for when, on what terms. */
export function PermissionsSection() {
  const permissions = useList('permissions')
  const open = useStore(openPermission)
  const seen = useStore(cautionsSeen)
  const opened = permissions.find(({ id }) => id === open?.id) ?? null
  if (open && (open.id === null || opened))
    return (
      <Section title={opened ? 'Change the permission' : 'New permission'}>
        <PermissionForm key={opened?.id ?? 'new'} permission={opened} draft={open.draft} />
      </Section>
    )
  const warned = permissions.filter(({ state }) => state !== 'open')
  return (
    <Section
      title="Permissions"
      aside={permissions.length > 0 ? countText(permissions.length, 'permission') : undefined}
    >
      <div className={classes.fields}>
        {seen ? null : (
          <Notice tone="plain" onDismiss={() => cautionsSeen.set(true)}>
            Get leave in writing: where, when, what becomes of finds, where not to go. Look protected ground
            up first: in Great Britain a detector on a scheduled monument without consent is an offence, and
            sites of special scientific interest, military land, burial grounds and agreements have rules of
            their own. This map does not show them unless you bring them in below.
          </Notice>
        )}
        {warned.map(({ id, stateText }) => (
          <Notice key={id} tone="warn">
            {stateText}
          </Notice>
        ))}
        {permissions.length > 0 ? (
          <ul className={classes.list} data-testid="permission-list">
            {permissions.map((permission) => (
              <PermissionRow
                key={permission.id}
                permission={permission}
                onOpen={() => writePermission(permission)}
              />
            ))}
          </ul>
        ) : null}
        <Button variant="default" onClick={() => writePermission(null)}>
          Write a permission down
        </Button>
      </div>
    </Section>
  )
}
