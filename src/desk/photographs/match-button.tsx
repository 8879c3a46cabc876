import { Button } from '@mantine/core'
import { IconPhotoSearch } from '@tabler/icons-react'
import { openDialog } from '../state/desk-state.ts'

/** Opens the list in which photographs are matched to finds. */
export function MatchButton() {
  return (
    <Button
      variant="default"
      leftSection={<IconPhotoSearch size={18} aria-hidden="true" />}
      onClick={() => openDialog.set('photographs')}
    >
      Match photographs to finds
    </Button>
  )
}
