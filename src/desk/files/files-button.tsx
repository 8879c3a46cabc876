import { Button } from '@mantine/core'
import { IconFilePlus } from '@tabler/icons-react'
import { chooseFiles } from './choose-files.ts'

interface FilesButtonProps {
  readonly label: string
  readonly main?: boolean
}

/** Opens the browser's own list of files and takes in those that are chosen. */
export function FilesButton({ label, main = false }: FilesButtonProps) {
  return (
    <Button
      variant={main ? 'filled' : 'default'}
      fullWidth={main}
      leftSection={<IconFilePlus size={18} aria-hidden="true" />}
      onClick={chooseFiles}
    >
      {label}
    </Button>
  )
}
